/* The vessel: glass, edges, the dark inside behind the pieces, and card that hides its sides. */
import * as THREE from "../vendor/three/three.module.min.js";
import { glassMaterial, plainMaterial, rgb } from "./shaders.js";

/** @typedef {import("./decode.js").Head} Head */
/** @typedef {{ width: number, height: number, depth: number }} Box in cm */

const WALL_CM = 0.12;
const LINE = "#667780";
const CARD = "#c9b48f";

/**
 * Radius of the inside at a height, or half the width of a box.
 *
 * @param {Head} head
 * @param {number} z
 */
export function wallAt(head, z) {
  return head.width / 2 + (((head.top - head.width) / 2) * z) / head.height;
}

/**
 * How far a point is from the wall, inwards, in cm.
 *
 * @param {Head} head
 * @param {number} x
 * @param {number} y
 * @param {number} z
 */
export function depthBehindWall(head, x, y, z) {
  if (head.form !== "box") return wallAt(head, z) - Math.hypot(x, y);
  return Math.min(head.width / 2 - Math.abs(x), head.depth / 2 - Math.abs(y));
}

export class Vessel {
  /**
   * @param {Head} head
   * @param {number} reach half the length of a piece, in cm
   */
  constructor(head, reach) {
    this.head = head;
    this.group = new THREE.Group();
    this.glass = glassMaterial(LINE);
    this.line = new THREE.MeshBasicMaterial({ color: rgb(LINE) });
    this.edge = new THREE.LineBasicMaterial({ color: rgb(LINE) });
    this.card = plainMaterial(CARD);
    /** @type {THREE.Mesh[]} */
    this.panels = [];
    // Deeper than any piece at the wall reaches: nearer it would hide pieces that can be seen.
    const inset = 2.5 * reach;
    const high = Math.max(0.1, head.fill - 1.3 * inset);
    const core = head.form === "box" ? this.addBox(inset, high) : this.addRound(inset, high);
    this.coreHeight = core.geometry.parameters.height;
    this.coreLow = core.position.y - this.coreHeight / 2;
    this.core = core;
    this.group.add(core);
  }

  /**
   * @template {THREE.BufferGeometry} G
   * @param {G} geometry
   * @param {number} y
   */
  darkInside(geometry, y) {
    const colour = rgb(this.head.colour).multiplyScalar(0.2);
    const core = new THREE.Mesh(geometry, new THREE.MeshBasicMaterial({ color: colour }));
    core.position.y = y;
    return core;
  }

  /**
   * @param {number} inset
   * @param {number} high
   */
  addBox(inset, high) {
    const { head } = this;
    const outer = {
      width: head.width + 2 * WALL_CM,
      height: head.height,
      depth: head.depth + 2 * WALL_CM,
    };
    const body = new THREE.BoxGeometry(outer.width, outer.height, outer.depth);
    const edges = new THREE.LineSegments(new THREE.EdgesGeometry(body), this.edge);
    edges.position.y = head.height / 2;
    this.group.add(...this.panes(outer), edges, this.rimOfBox(outer));
    const width = Math.max(0.1, head.width - 2 * inset);
    const depth = Math.max(0.1, head.depth - 2 * inset);
    return this.darkInside(new THREE.BoxGeometry(width, high - inset * 0.5, depth), high / 2);
  }

  /** @param {Box} outer */
  panes({ width, height, depth }) {
    const sides = [
      { size: width, x: 0, z: depth / 2, turn: 0 },
      { size: width, x: 0, z: -depth / 2, turn: 0 },
      { size: depth, x: width / 2, z: 0, turn: Math.PI / 2 },
      { size: depth, x: -width / 2, z: 0, turn: Math.PI / 2 },
    ];
    return sides.map(({ size, x, z, turn }) => {
      const pane = new THREE.Mesh(new THREE.PlaneGeometry(size, height), this.glass);
      pane.position.set(x, height / 2, z);
      pane.rotation.y = turn;
      pane.renderOrder = 5;
      return pane;
    });
  }

  /** @param {Box} outer */
  rimOfBox({ width, height, depth }) {
    const rim = new THREE.Group();
    for (const side of [-1, 1]) {
      const long = new THREE.Mesh(new THREE.BoxGeometry(width, 0.16, 0.16), this.line);
      const short = new THREE.Mesh(new THREE.BoxGeometry(0.16, 0.16, depth), this.line);
      long.position.set(0, height, (side * depth) / 2);
      short.position.set((side * width) / 2, height, 0);
      rim.add(long, short);
    }
    return rim;
  }

  /**
   * @param {number} inset
   * @param {number} high
   */
  addRound(inset, high) {
    const { head } = this;
    const outline = [];
    for (let k = 0; k <= 8; k++) {
      const t = ((k / 8) * Math.PI) / 2;
      const radius = head.width / 2 + WALL_CM - head.edge * (1 - Math.sin(t));
      outline.push(new THREE.Vector2(Math.max(0, radius), head.edge * (1 - Math.cos(t))));
    }
    outline.push(new THREE.Vector2(head.top / 2 + WALL_CM, head.height));
    const body = new THREE.Mesh(new THREE.LatheGeometry(outline, 56), this.glass);
    body.renderOrder = 5;
    const brim = this.ring(head.top / 2 + WALL_CM, 0.11, head.height);
    const foot = this.ring(head.width / 2 + WALL_CM - head.edge, 0.07, 0.07);
    this.group.add(body, brim, foot);
    const low = Math.max(0.05, wallAt(head, 0) - inset);
    const up = Math.max(0.05, wallAt(head, high) - inset);
    const from = Math.max(inset * 0.5, head.edge * 0.6);
    const inside = new THREE.CylinderGeometry(up, low, Math.max(0.05, high - from), 32);
    return this.darkInside(inside, (high + from) / 2);
  }

  /**
   * @param {number} radius
   * @param {number} thickness
   * @param {number} y
   */
  ring(radius, thickness, y) {
    const ring = new THREE.Mesh(new THREE.TorusGeometry(radius, thickness, 6, 64), this.line);
    ring.rotation.x = Math.PI / 2;
    ring.position.y = y;
    return ring;
  }

  /**
   * The dark inside goes down with the layers.
   *
   * @param {number} share of its height that is left
   */
  sink(share) {
    this.core.visible = share > 0;
    if (share <= 0) return;
    this.core.scale.y = share;
    this.core.position.y = this.coreLow + (this.coreHeight * share) / 2;
  }

  /**
   * Card that hides one or two sides and turns with the jar.
   *
   * @param {number} n sides
   */
  hide(n) {
    this.group.remove(...this.panels);
    this.panels = Array.from({ length: n }, (_, k) => {
      return this.head.form === "box" ? this.flatCard(k) : this.roundCard(k);
    });
    if (n) this.group.add(...this.panels);
  }

  /** @param {number} k */
  flatCard(k) {
    const { width, height, depth } = this.head;
    const plane = new THREE.PlaneGeometry((k ? depth : width) + 0.8, height + 0.3);
    const card = new THREE.Mesh(plane, this.card);
    card.position.set(k ? -width / 2 - 0.4 : 0, height / 2, k ? 0 : -depth / 2 - 0.4);
    card.rotation.y = k ? Math.PI / 2 : 0;
    return card;
  }

  /** @param {number} k */
  roundCard(k) {
    const { width, height, top } = this.head;
    const from = Math.PI * (1 - k / 2) - Math.PI / 4;
    const [up, low] = [top / 2 + 0.45, width / 2 + 0.45];
    const bow = new THREE.CylinderGeometry(up, low, height, 24, 1, true, from, Math.PI / 2);
    const card = new THREE.Mesh(bow, this.card);
    card.position.y = height / 2;
    return card;
  }

  /** @param {THREE.Color} colour */
  paint(colour) {
    this.line.color = colour;
    this.edge.color = colour;
    this.glass.uniforms.colour.value = colour;
  }
}
