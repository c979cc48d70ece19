/* Materials of the jar: how pieces, plain things and glass take the light. */
import * as THREE from "../vendor/three/three.module.min.js";

const LIGHT = "vec3(-0.40, 0.66, 0.63)";

/* GLSL: the light on a surface with normal n. */
const SHADE = `
  float lit = max(0.0, dot(n, normalize(${LIGHT})));
  light = ambient + 0.58 * lit + 0.10 * pow(lit, 20.0);`;

const PIECE_VERTEX = `
  const float ambient = 0.46;
  attribute float tone;
  varying float light;
  uniform float lift;
  uniform float shrink;
  void main() {
    vec3 n = normalize(normalMatrix * mat3(instanceMatrix) * normal);
    ${SHADE}
    light *= tone;
    vec4 p = instanceMatrix * vec4(position * shrink, 1.0);
    p.z += lift;
    gl_Position = projectionMatrix * modelViewMatrix * p;
  }`;

const PLAIN_VERTEX = `
  const float ambient = 0.6;
  varying float light;
  void main() {
    vec4 p = modelViewMatrix * vec4(position, 1.0);
    vec3 n = normalize(normalMatrix * normal);
    n = dot(n, p.xyz) > 0.0 ? -n : n;
    ${SHADE}
    gl_Position = projectionMatrix * p;
  }`;

const LIT_FRAGMENT = `
  uniform vec3 colour;
  varying float light;
  void main() { gl_FragColor = vec4(colour * light, 1.0); }`;

const GLASS_VERTEX = `
  varying float rim;
  void main() {
    vec4 p = modelViewMatrix * vec4(position, 1.0);
    rim = 1.0 - abs(dot(normalize(normalMatrix * normal), normalize(-p.xyz)));
    gl_Position = projectionMatrix * p;
  }`;

const GLASS_FRAGMENT = `
  uniform vec3 colour;
  varying float rim;
  void main() { gl_FragColor = vec4(colour, 0.05 + 0.55 * pow(rim, 4.0)); }`;

/**
 * A colour of a style sheet.
 *
 * @param {string} text
 */
export const rgb = (text) => new THREE.Color().setStyle(text, THREE.LinearSRGBColorSpace);

/** @param {string} colour */
export function pieceMaterial(colour) {
  return new THREE.ShaderMaterial({
    vertexShader: PIECE_VERTEX,
    fragmentShader: LIT_FRAGMENT,
    uniforms: { colour: { value: rgb(colour) }, lift: { value: 0 }, shrink: { value: 1 } },
  });
}

/** @param {string} colour */
export function plainMaterial(colour) {
  return new THREE.ShaderMaterial({
    vertexShader: PLAIN_VERTEX,
    fragmentShader: LIT_FRAGMENT,
    uniforms: { colour: { value: rgb(colour) } },
    side: THREE.DoubleSide,
  });
}

/** @param {string} colour */
export function glassMaterial(colour) {
  return new THREE.ShaderMaterial({
    vertexShader: GLASS_VERTEX,
    fragmentShader: GLASS_FRAGMENT,
    uniforms: { colour: { value: rgb(colour) } },
    transparent: true,
    depthWrite: false,
    side: THREE.DoubleSide,
  });
}
