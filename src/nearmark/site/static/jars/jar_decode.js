/* What the server sends to draw a jar, as arrays; the layout stands in nearmark/charts/jar_scene.py. */

const TURN_HALF = 511.5 * Math.SQRT2;

function turn(packed, out, at) {
  const largest = packed >>> 30;
  const three = [(packed >>> 20) & 1023, (packed >>> 10) & 1023, packed & 1023].map(
    (v) => (v - 512) / TURN_HALF,
  );
  const rest = Math.sqrt(Math.max(0, 1 - three[0] ** 2 - three[1] ** 2 - three[2] ** 2));
  const wxyz = [0, 0, 0, 0];
  for (let k = 0, j = 0; k < 4; k++) wxyz[k] = k === largest ? rest : three[j++];
  out[at] = wxyz[1];
  out[at + 1] = wxyz[2];
  out[at + 2] = wxyz[3];
  out[at + 3] = wxyz[0];
}

export function decode(buffer) {
  const view = new DataView(buffer);
  const length = view.getUint32(0, true);
  const head = JSON.parse(new TextDecoder().decode(new Uint8Array(buffer, 4, length)));
  let at = 4 + length;
  const n = head.pieces;
  const centres = new Float32Array(3 * n),
    sizes = new Float32Array(n),
    turns = new Float32Array(4 * n);
  for (let i = 0; i < n; i++, at += 12) {
    for (let k = 0; k < 3; k++)
      centres[3 * i + k] = head.low[k] + (view.getUint16(at + 2 * k, true) / 65535) * head.span[k];
    sizes[i] = view.getUint16(at + 6, true) / 32768;
    turn(view.getUint32(at + 8, true), turns, 4 * i);
  }
  const meshes = head.meshes.map(([nPoints, nFaces]) => {
    const points = new Float32Array(3 * nPoints),
      normals = new Float32Array(3 * nPoints);
    for (let i = 0; i < nPoints; i++)
      for (let k = 0; k < 3; k++) {
        points[3 * i + k] = view.getInt16(at + 8 * i + 2 * k, true) / 8192;
        normals[3 * i + k] = view.getInt8(at + 8 * nPoints + 4 * i + k) / 127;
      }
    at += 12 * nPoints;
    const faces = new Uint16Array(buffer.slice(at, at + 6 * nFaces));
    at += 6 * nFaces + ((6 * nFaces) % 4);
    return { points, normals, faces };
  });
  return { head, centres, sizes, turns, meshes };
}
