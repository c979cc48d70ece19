/* The pieces of a jar: which are drawn, how coarse, and layer after layer taken off. */
import * as THREE from "../vendor/three/three.module.min.js";
import { reachOf } from "./decode.js";
import { pieceMaterial } from "./shaders.js";
import { depthBehindWall } from "./vessel.js";

/** @typedef {import("./decode.js").Jar} Jar */

/**
 * Pieces that are drawn at once.
 *
 * @typedef {object} Batch
 * @property {THREE.InstancedMesh} mesh
 * @property {THREE.BufferGeometry[]} levels coarse first
 * @property {number} nAll
 * @property {number} nOuter the first ones: what is drawn while the jar moves on a slow device
 */

/**
 * @typedef {object} Layer
 * @property {number} count
 * @property {THREE.ShaderMaterial} material
 * @property {Batch} wall pieces at the glass
 * @property {Batch} inner pieces that are seen from above only
 */

const SECTORS = 16;
/** What faces farther away from the eye is behind the jar. */
const SEEN_PAST = Math.cos((112 * Math.PI) / 180);
/** Layers below the top whose inner pieces are drawn. */
const N_INNER = 3;

/**
 * @param {Jar} jar
 * @param {number} i
 * @returns {[number, number, number]}
 */
function centreOf(jar, i) {
  const [x, y, z] = jar.centres.subarray(3 * i, 3 * i + 3);
  return [x, y, z];
}

export class Pieces {
  /** @param {Jar} shell */
  constructor(shell) {
    this.head = shell.head;
    /** Length of a piece, in cm: what counts as one piece deep. */
    this.long = 2 * reachOf(shell);
    // Up is z in a jar and y in a scene.
    this.group = new THREE.Group();
    this.group.rotation.x = -Math.PI / 2;
    this.shapes = shell.meshes.map((mesh) => {
      const geometry = new THREE.BufferGeometry();
      geometry.setAttribute("position", new THREE.BufferAttribute(mesh.points, 3));
      geometry.setAttribute("normal", new THREE.BufferAttribute(mesh.normals, 3));
      return geometry.setIndex(new THREE.BufferAttribute(mesh.faces, 1));
    });
    /** @type {Layer[] | null} */
    this.layers = null;
    /** Layers that are taken off. */
    this.off = 0;
    this.isApart = false;
    this.shell = this.sectors(shell);
  }

  /**
   * One instanced mesh of the pieces with these numbers.
   *
   * @param {Jar} jar
   * @param {number[]} which
   * @param {THREE.ShaderMaterial} material
   * @param {number} top height above which nothing covers a piece, in cm
   * @returns {Batch}
   */
  batch(jar, which, material, top) {
    const { long } = this;
    const width = this.head.piece;
    /** @param {number} i */
    const depthOf = (i) => {
      const [x, y, z] = centreOf(jar, i);
      const depth = Math.min(depthBehindWall(this.head, x, y, z), top - z);
      return Math.max(0, depth / long - 0.6);
    };
    // The outermost first: while the jar moves, the others can be left out.
    const sorted = which.map((i) => ({ i, depth: depthOf(i) })).sort((a, b) => a.depth - b.depth);
    const nOuter = sorted.filter(({ depth }) => depth <= 0.75).length;
    const mesh = new THREE.InstancedMesh(this.shapes[0], material, sorted.length);
    const tones = new Float32Array(sorted.length);
    const matrix = new THREE.Matrix4();
    const at = new THREE.Vector3();
    const turn = new THREE.Quaternion();
    const scale = new THREE.Vector3();
    sorted.forEach(({ i, depth }, k) => {
      at.fromArray(jar.centres, 3 * i);
      turn.fromArray(jar.turns, 4 * i);
      scale.setScalar(jar.sizes[i] * width);
      mesh.setMatrixAt(k, matrix.compose(at, turn, scale));
      tones[k] = (1 + 0.16 * (((i * 7919) % 97) / 97 - 0.5)) / (1 + 0.42 * depth);
    });
    mesh.frustumCulled = false;
    this.group.add(mesh);
    return { mesh, levels: this.levels(tones), nAll: sorted.length, nOuter };
  }

  /** @param {Float32Array} tones */
  levels(tones) {
    const tone = new THREE.InstancedBufferAttribute(tones, 1);
    return this.shapes.map((shape) => {
      const geometry = new THREE.BufferGeometry();
      geometry.setAttribute("position", shape.attributes.position);
      geometry.setAttribute("normal", shape.attributes.normal);
      geometry.setAttribute("tone", tone);
      return geometry.setIndex(shape.index);
    });
  }

  /**
   * The shell by the way it faces: what is turned away need not be drawn; the top always is.
   *
   * @param {Jar} jar
   */
  sectors(jar) {
    const { long } = this;
    const { fill, colour } = this.head;
    /** @type {number[][]} */
    const groups = Array.from({ length: SECTORS + 1 }, () => []);
    for (let i = 0; i < jar.sizes.length; i++) {
      if (jar.sizes[i] === 0) continue;
      const [x, y, z] = centreOf(jar, i);
      const aside = Math.floor((Math.atan2(y, x) / (2 * Math.PI) + 1) * SECTORS) % SECTORS;
      groups[z > fill - 2.5 * long ? SECTORS : aside].push(i);
    }
    const material = pieceMaterial(colour);
    return groups.map((which, k) => {
      const angle = ((k + 0.5) / SECTORS) * 2 * Math.PI;
      const faces = k < SECTORS ? [Math.cos(angle), Math.sin(angle)] : null;
      return { batch: this.batch(jar, which, material, fill + long), faces };
    });
  }

  /**
   * The whole jar, layer by layer.
   *
   * @param {Jar} whole
   */
  setWhole(whole) {
    let from = 0;
    this.layers = (whole.head.layers ?? []).map((count) => {
      const numbers = Array.from({ length: count }, (_, k) => from + k);
      from += count;
      return this.layer(whole, numbers);
    });
  }

  /**
   * @param {Jar} whole
   * @param {number[]} numbers
   * @returns {Layer}
   */
  layer(whole, numbers) {
    const { long } = this;
    const { colour } = this.head;
    /** @type {number[]} */
    const wall = [];
    /** @type {number[]} */
    const inner = [];
    let top = 0;
    for (const i of numbers) {
      const [x, y, z] = centreOf(whole, i);
      (depthBehindWall(this.head, x, y, z) < 1.6 * long ? wall : inner).push(i);
      top = Math.max(top, z);
    }
    const material = pieceMaterial(colour);
    return {
      count: numbers.length,
      material,
      wall: this.batch(whole, wall, material, top + long),
      inner: this.batch(whole, inner, material, top + long),
    };
  }

  /**
   * Take the first layers away.
   *
   * @param {number} off
   * @param {number} flying in 0..1, how far the next one is lifted
   */
  takeOff(off, flying) {
    this.off = off;
    this.isApart = off > 0 || flying > 0;
    this.layers?.forEach((layer, k) => {
      layer.wall.mesh.visible = this.isApart && k >= off;
      layer.inner.mesh.visible = this.isApart && k >= off && k < off + N_INNER;
      const mine = k === off ? flying : 0;
      layer.material.uniforms.lift.value = mine * this.head.height * 0.45;
      layer.material.uniforms.shrink.value = 1 - (0.9 * Math.max(0, mine - 0.6)) / 0.4;
    });
  }

  /** Share of the layers that the dark inside still fills. */
  get shareLeft() {
    if (!this.isApart || !this.layers) return 1;
    return 1 - (this.off + N_INNER) / this.layers.length;
  }

  /**
   * Coarser pieces the smaller they look and while the jar moves; none that are turned away.
   *
   * @param {object} view
   * @param {number} view.pixels length of a piece on the screen
   * @param {boolean} view.isHurried the jar moves, and the device is slow
   * @param {[number, number]} view.look to the eye, in the jar's own frame
   */
  choose({ pixels, isHurried, look }) {
    const level = (pixels > 40 ? 3 : pixels > 15 ? 2 : 1) - (isHurried ? 1 : 0);
    for (const { batch, faces } of this.shell) {
      const isSeen = !faces || faces[0] * look[0] + faces[1] * look[1] > SEEN_PAST;
      batch.mesh.visible = !this.isApart && batch.nAll > 0 && isSeen;
    }
    const apart = this.layers?.flatMap((layer) => [layer.wall, layer.inner]) ?? [];
    for (const { mesh, levels, nAll, nOuter } of [
      ...this.shell.map((one) => one.batch),
      ...apart,
    ]) {
      mesh.geometry = levels[level];
      mesh.count = isHurried ? nOuter : nAll;
    }
  }
}
