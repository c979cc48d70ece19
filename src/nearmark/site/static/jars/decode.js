/* What the server sends to draw a jar, as arrays; the layout is in nearmark/charts/jar_scene.py. */

/**
 * The vessel and what is in it; lengths in cm.
 *
 * @typedef {object} Head
 * @property {"box" | "round"} form
 * @property {number} height
 * @property {number} width at the foot
 * @property {number} depth of a box
 * @property {number} top width at the brim of a round one
 * @property {number} edge radius between foot and wall
 * @property {number} piece width of a piece
 * @property {string} colour of the pieces
 * @property {number} fill height of the heap
 * @property {number[]} low corner of the heap
 * @property {number[]} span of the heap
 * @property {number} pieces rows that follow
 * @property {number[] | null} layers pieces in each, from the top; only after the answer
 * @property {[number, number][]} meshes points and faces of each, coarse first
 */

/** @typedef {{ points: Float32Array, normals: Float32Array, faces: Uint16Array }} Mesh */

/**
 * Pieces by number; a size of 0 is a row without one.
 *
 * @typedef {object} Jar
 * @property {Head} head
 * @property {Float32Array} centres x, y, z in cm
 * @property {Float32Array} sizes in widths
 * @property {Float32Array} turns quaternions x, y, z, w
 * @property {Mesh[]} meshes
 */

const TURN_HALF = 511.5 * Math.SQRT2;

/**
 * A quaternion without its largest part, in 32 bits.
 *
 * @param {number} packed
 * @param {Float32Array} out
 * @param {number} at
 */
function unpackTurn(packed, out, at) {
  const largest = packed >>> 30;
  const steps = [(packed >>> 20) & 1023, (packed >>> 10) & 1023, packed & 1023];
  const three = steps.map((v) => (v - 512) / TURN_HALF);
  const rest = Math.sqrt(Math.max(0, 1 - three[0] ** 2 - three[1] ** 2 - three[2] ** 2));
  three.splice(largest, 0, rest);
  const [w, x, y, z] = three;
  out.set([x, y, z, w], at);
}

/**
 * @param {ArrayBuffer} buffer
 * @returns {Jar}
 */
export function decode(buffer) {
  const view = new DataView(buffer);
  const length = view.getUint32(0, true);
  /** @type {Head} */
  const head = JSON.parse(new TextDecoder().decode(new Uint8Array(buffer, 4, length)));
  const n = head.pieces;
  const centres = new Float32Array(3 * n);
  const sizes = new Float32Array(n);
  const turns = new Float32Array(4 * n);
  let at = 4 + length;
  for (let i = 0; i < n; i++, at += 12) {
    for (let k = 0; k < 3; k++) {
      const share = view.getUint16(at + 2 * k, true) / 65535;
      centres[3 * i + k] = head.low[k] + share * head.span[k];
    }
    sizes[i] = view.getUint16(at + 6, true) / 32768;
    unpackTurn(view.getUint32(at + 8, true), turns, 4 * i);
  }
  const meshes = head.meshes.map(([nPoints, nFaces]) => {
    const mesh = decodeMesh(view, at, nPoints, nFaces);
    at += 12 * nPoints + 6 * nFaces + ((6 * nFaces) % 4);
    return mesh;
  });
  return { head, centres, sizes, turns, meshes };
}

/**
 * Half the length of a piece, in cm: flat and long ones reach far beyond half their width.
 *
 * @param {Jar} jar
 */
export function reachOf({ head, meshes }) {
  const { points } = meshes[meshes.length - 1];
  let most = 0;
  for (let i = 0; i < points.length; i += 3) {
    most = Math.max(most, Math.hypot(points[i], points[i + 1], points[i + 2]));
  }
  return most * head.piece;
}

/**
 * @param {DataView<ArrayBuffer>} view
 * @param {number} at
 * @param {number} nPoints
 * @param {number} nFaces
 * @returns {Mesh}
 */
function decodeMesh(view, at, nPoints, nFaces) {
  const points = new Float32Array(3 * nPoints);
  const normals = new Float32Array(3 * nPoints);
  for (let i = 0; i < nPoints; i++) {
    for (let k = 0; k < 3; k++) {
      points[3 * i + k] = view.getInt16(at + 8 * i + 2 * k, true) / 8192;
      normals[3 * i + k] = view.getInt8(at + 8 * nPoints + 4 * i + k) / 127;
    }
  }
  const from = at + 12 * nPoints;
  return { points, normals, faces: new Uint16Array(view.buffer.slice(from, from + 6 * nFaces)) };
}
