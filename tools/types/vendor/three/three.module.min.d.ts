// The vendored library has the types of its npm package; tsconfig.json lays this folder over static/.
export * from "three";
