/* The table under the jar, and a cup beside it to compare with. */
import * as THREE from "../vendor/three/three.module.min.js";
import { plainMaterial, rgb } from "./shaders.js";

/** A cup as it is in many kitchens, in cm. */
const CUP = { brim: 4, foot: 2.8, height: 9 };
const GAP_CM = 2.2;
const BOARD_CM = 90;
const CUP_BY_DAY = "#e6e8e4";
const CUP_BY_NIGHT = "#b9bfbd";

/** Outline of the cup, radius and height: inside up, over the brim, outside down. */
const OUTLINE = [
  [0, 0.3],
  [CUP.foot - 0.2, 0.3],
  [CUP.brim - 0.2, CUP.height],
  [CUP.brim, CUP.height],
  [CUP.brim + 0.1, CUP.height - 0.3],
  [CUP.brim - 0.1, CUP.height - 0.4],
  [CUP.foot, 0],
  [0, 0],
];

/** A spot that is darkest in the middle: share of the radius, and how dark. */
const FADE = [
  [0, 0.5],
  [0.55, 0.42],
  [0.72, 0.16],
  [1, 0],
];

/**
 * @param {number} x
 * @param {number} radius
 */
function shadow(x, radius) {
  const canvas = document.createElement("canvas");
  canvas.width = canvas.height = 128;
  const pen = canvas.getContext("2d");
  if (!pen) throw new Error("this browser draws no canvas");
  const fade = pen.createRadialGradient(64, 64, 0, 64, 64, 64);
  for (const [stop, alpha] of FADE) fade.addColorStop(stop, `rgba(20,28,32,${alpha})`);
  pen.fillStyle = fade;
  pen.fillRect(0, 0, 128, 128);
  const map = new THREE.CanvasTexture(canvas);
  const paint = new THREE.MeshBasicMaterial({ map, transparent: true, depthWrite: false });
  const spot = new THREE.Mesh(new THREE.PlaneGeometry(3.3 * radius, 3.3 * radius), paint);
  spot.rotation.x = -Math.PI / 2;
  spot.position.x = x;
  spot.renderOrder = 1;
  return spot;
}

export class Table {
  /** @param {import("./decode.js").Head} head */
  constructor(head) {
    const isBox = head.form === "box";
    /** Half of the room that the jar takes when it turns, in cm. */
    this.half = Math.max(head.width, isBox ? Math.hypot(head.width, head.depth) : head.top) / 2;
    this.group = new THREE.Group();
    this.ground = new THREE.MeshBasicMaterial();
    this.glaze = plainMaterial(CUP_BY_DAY);
    const board = new THREE.Mesh(new THREE.CircleGeometry(BOARD_CM, 64), this.ground);
    board.rotation.x = -Math.PI / 2;
    board.position.y = -0.02;
    const outline = OUTLINE.map(([x, y]) => new THREE.Vector2(x, y));
    const cup = new THREE.Mesh(new THREE.LatheGeometry(outline, 48), this.glaze);
    const cupX = this.half + GAP_CM + CUP.brim;
    cup.position.x = cupX;
    /** Where the cup ends to the right, in cm. */
    this.right = cupX + CUP.brim;
    this.cup = new THREE.Group().add(cup, shadow(cupX, CUP.foot));
    this.group.add(board, shadow(0, this.half), this.cup);
  }

  get hasCup() {
    return this.cup.visible;
  }

  /** @param {boolean} isOn */
  showCup(isOn) {
    this.cup.visible = isOn;
  }

  /** Height of the cup, in cm. */
  get height() {
    return CUP.height;
  }

  /**
   * @param {THREE.Color} ground
   * @param {boolean} isNight
   */
  paint(ground, isNight) {
    this.ground.color = ground;
    this.glaze.uniforms.colour.value = rgb(isNight ? CUP_BY_NIGHT : CUP_BY_DAY);
  }
}
