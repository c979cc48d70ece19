/* The jar on a table with a cup beside it, drawn when something changed and not otherwise. */
import * as THREE from "../vendor/three/three.module.min.js";
import { reachOf } from "./decode.js";
import { Pieces } from "./pieces.js";
import { rgb } from "./shaders.js";
import { Table } from "./table.js";
import { Vessel, wallAt } from "./vessel.js";

/** @typedef {import("./decode.js").Jar} Jar */
/** @typedef {import("./camera.js").Stance} Stance */

const VIEW_DEG = 30;
const SLOPE = Math.tan((VIEW_DEG / 2) * (Math.PI / 180));
/** After the last touch the jar counts as moving for so long. */
const MOVING_MS = 140;
const MIN_SHARPNESS = 0.35;
/** Below this the picture is coarse, and pieces are left out. */
const HURRIED = 0.9;
const MAX_PIXEL_RATIO = 2;
/** Free room about jar and cup. */
const EDGE_CM = 0.8;

/**
 * By how much the picture gets sharper or coarser after a frame that took so long.
 *
 * @param {number} frameMs
 */
function sharpening(frameMs) {
  if (frameMs > 150) return 0.6;
  if (frameMs > 45) return 0.82;
  return frameMs < 22 ? 1.15 : 1;
}

/**
 * Squares over the surface, four pieces wide.
 *
 * @param {import("./decode.js").Head} head
 */
function gridOf(head) {
  const isBox = head.form === "box";
  const step = 4 * head.piece;
  const z = head.fill + 0.7 * head.piece;
  const halfX = isBox ? head.width / 2 : wallAt(head, head.fill);
  const halfY = isBox ? head.depth / 2 : halfX;
  /**
   * Half the length of a line at a distance from the middle.
   *
   * @param {number} at
   * @param {number} half
   */
  const span = (at, half) => (isBox ? half : Math.sqrt(Math.max(0, halfX * halfX - at * at)));
  /** @type {number[]} */
  const points = [];
  for (let x = -Math.floor(halfX / step) * step; x <= halfX; x += step) {
    points.push(x, -span(x, halfY), z, x, span(x, halfY), z);
  }
  for (let y = -Math.floor(halfY / step) * step; y <= halfY; y += step) {
    points.push(-span(y, halfX), y, z, span(y, halfX), y, z);
  }
  const geometry = new THREE.BufferGeometry();
  geometry.setAttribute("position", new THREE.BufferAttribute(new Float32Array(points), 3));
  // White, so that the pieces stay what they are.
  const paint = new THREE.LineBasicMaterial({ color: 0xffffff, depthTest: false });
  const lines = new THREE.LineSegments(geometry, paint);
  lines.renderOrder = 9;
  return lines;
}

export class JarScene {
  /**
   * @param {HTMLCanvasElement} canvas
   * @param {Jar} jar
   * @param {Stance} stance
   */
  constructor(canvas, jar, stance) {
    this.canvas = canvas;
    this.head = jar.head;
    this.stance = stance;
    const quiet = /** @type {const} */ ({ antialias: true, powerPreference: "low-power" });
    this.renderer = new THREE.WebGLRenderer({ canvas, ...quiet });
    this.renderer.outputColorSpace = THREE.LinearSRGBColorSpace;
    this.scene = new THREE.Scene();
    this.camera = new THREE.PerspectiveCamera(VIEW_DEG, 1, 1, 600);
    this.table = new Table(jar.head);
    this.reach = reachOf(jar);
    this.vessel = new Vessel(jar.head, this.reach);
    this.pieces = new Pieces(jar);
    this.lines = gridOf(jar.head);
    this.lines.visible = false;
    this.pieces.group.add(this.lines);
    this.turning = new THREE.Group().add(this.pieces.group, this.vessel.group);
    this.scene.add(this.table.group, this.turning);
    this.sharpness = 1;
    this.frames = 0;
    this.frameMs = 0;
    this.movedAt = 0;
    this.isMoving = false;
    this.isDue = false;
    this.size = { width: 0, height: 0 };
    /** Called after each picture: the eye may stand elsewhere. */
    this.moved = () => {};
    /** @type {import("./camera.js").Room | null} */
    this.room = null;
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    this.settling = undefined;
    this.paint();
    this.fit();
  }

  /** Pieces of each layer, from the top; empty before the whole jar is there. */
  get layerCounts() {
    return this.pieces.layers?.map((layer) => layer.count) ?? [];
  }

  /** Layers that are taken off. */
  get off() {
    return this.pieces.off;
  }

  /** @param {Jar} whole */
  setWhole(whole) {
    this.pieces.setWhole(whole);
    this.takeOff(0);
  }

  /**
   * Take the first layers away.
   *
   * @param {number} off
   * @param {number} [flying] in 0..1, how far the next one is lifted
   */
  takeOff(off, flying = 0) {
    this.pieces.takeOff(off, flying);
    this.vessel.sink(this.pieces.shareLeft);
    this.draw(flying > 0);
  }

  /** @param {number} n sides that are hidden behind card */
  hide(n) {
    this.vessel.hide(n);
    this.draw();
  }

  /**
   * A cup beside the jar to compare with; without it the jar is larger.
   *
   * @param {boolean} isOn
   */
  cup(isOn) {
    this.table.showCup(isOn);
    this.fit();
  }

  /** @param {boolean} isOn */
  grid(isOn) {
    this.lines.visible = isOn;
    this.draw();
  }

  /** The page's own colours, by day and by night. */
  paint() {
    const style = getComputedStyle(this.canvas);
    /** @param {string} name */
    const token = (name) => rgb(style.getPropertyValue(name).trim());
    const isNight = matchMedia("(prefers-color-scheme: dark)").matches;
    this.scene.background = token("--white");
    this.table.paint(token("--band").lerp(token("--paper"), 0.45), isNight);
    this.vessel.paint(token("--ink-soft"));
    this.draw();
  }

  /** Fill the place that the page gives, with the jar, and the cup where it is shown. */
  fit() {
    const { clientWidth: width = 0, clientHeight: height = 0 } = this.canvas.parentElement ?? {};
    if (!width || !height) return;
    this.size = { width, height };
    this.camera.aspect = width / height;
    this.camera.updateProjectionMatrix();
    const { half, right } = this.table;
    const { head } = this;
    const hasCup = this.table.hasCup;
    const halfWide = (hasCup ? (half + right) / 2 : half) + EDGE_CM;
    const halfHigh = Math.max(head.height, hasCup ? this.table.height : 0) / 2 + EDGE_CM;
    const narrow = Math.min(1, this.camera.aspect);
    const distance = Math.max(halfWide / (SLOPE * this.camera.aspect), halfHigh / SLOPE) + half;
    this.room = {
      distance,
      middleX: hasCup ? (right - half) / 2 : 0,
      height: head.height,
      fill: head.fill,
      above: (1.08 * half) / (SLOPE * narrow),
      slope: SLOPE,
    };
    this.draw();
  }

  draw(isMoving = false) {
    if (isMoving) this.movedAt = performance.now();
    this.isMoving = isMoving || performance.now() - this.movedAt < MOVING_MS;
    if (this.isDue) return;
    this.isDue = true;
    requestAnimationFrame(() => {
      this.isDue = false;
      this.drawNow();
    });
  }

  drawNow() {
    if (!this.room) return;
    const begun = performance.now();
    const eye = this.stance.eye(this.room);
    this.camera.position.fromArray(eye.at);
    this.camera.lookAt(...eye.to);
    this.turning.rotation.y = (this.stance.turn * Math.PI) / 180;
    const ratio = Math.min(window.devicePixelRatio || 1, MAX_PIXEL_RATIO);
    this.renderer.setPixelRatio(this.isMoving ? ratio * this.sharpness : ratio);
    this.renderer.setSize(this.size.width, this.size.height, false);
    this.choose(ratio);
    this.renderer.render(this.scene, this.camera);
    if (this.isMoving || this.frames === 0) this.measure(begun);
    this.frames += 1;
    this.moved();
    Object.assign(this.canvas.dataset, {
      frames: this.frames,
      eyeCm: eye.at[1].toFixed(2),
      turn: this.stance.turn.toFixed(1),
      head: this.stance.head.toFixed(1),
      reach: this.stance.reach.toFixed(2),
      // Where the middle of the brim lies in the picture: 1 is its upper edge.
      brim: new THREE.Vector3(0, this.head.height, 0).project(this.camera).y.toFixed(3),
      triangles: this.renderer.info.render.triangles,
      frameMs: this.frameMs.toFixed(1),
    });
  }

  /**
   * How long the picture took; coarser pictures where that is too long, a sharp one at the end.
   *
   * @param {number} begun
   */
  measure(begun) {
    // One pixel read back: only then is the picture really done, and its time known.
    const gl = this.renderer.getContext();
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, new Uint8Array(4));
    this.frameMs = performance.now() - begun;
    const sharpness = this.sharpness * sharpening(this.frameMs);
    this.sharpness = Math.min(1, Math.max(MIN_SHARPNESS, sharpness));
    clearTimeout(this.settling);
    if (!this.isMoving) return;
    const settle = () => {
      this.isMoving = false;
      this.movedAt = 0;
      this.draw();
    };
    this.settling = setTimeout(settle, this.sharpness < HURRIED ? 360 : 160);
  }

  /** @param {number} ratio pixels of the screen for one of the page */
  choose(ratio) {
    const eye = this.camera.position;
    const far = eye.distanceTo(new THREE.Vector3(0, this.head.height / 2, 0));
    const pixels = (((2 * this.reach) / far) * this.size.height * ratio) / (2 * SLOPE);
    const turn = this.turning.rotation.y;
    const length = Math.hypot(eye.x, eye.z) || 1;
    const [ex, ez] = [eye.x / length, eye.z / length];
    this.pieces.choose({
      pixels,
      isHurried: this.isMoving && this.sharpness < HURRIED,
      // Into the jar's own frame, whose y goes away from the eye.
      look: [
        Math.cos(turn) * ex - Math.sin(turn) * ez,
        -(Math.sin(turn) * ex + Math.cos(turn) * ez),
      ],
    });
  }
}
