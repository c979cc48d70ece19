/* Buttons, keys and fingers that turn the jar and move the head. */
import { need } from "../shared/dom.js";

/** @typedef {import("./camera.js").Step} Step */
/** @typedef {import("./scene.js").JarScene} JarScene */

/** @type {Record<string, Step>} */
const STEPS = {
  left: { turn: 15 },
  right: { turn: -15 },
  up: { head: 8 },
  down: { head: -8 },
  near: { reach: 0.85 },
  far: { reach: 1 / 0.85 },
};

/** @type {Record<string, string>} */
const KEYS = {
  ArrowLeft: "left",
  ArrowRight: "right",
  ArrowUp: "up",
  ArrowDown: "down",
  "+": "near",
  "=": "near",
  "-": "far",
};

const TURN_DEG_PER_PX = 0.45;
const HEAD_DEG_PER_PX = 0.3;

/**
 * @param {HTMLElement} view
 * @param {HTMLElement} tools
 * @param {JarScene} scene
 */
export function offerMoves(view, tools, scene) {
  const told = need("#jar-told");
  /** @param {string} name */
  function move(name) {
    scene.stance.move(STEPS[name]);
    scene.draw(true);
    told.textContent = scene.stance.words;
  }
  tools.addEventListener("click", (event) => {
    const button = event.target instanceof Element && event.target.closest("[data-move]");
    if (button instanceof HTMLElement) move(button.dataset.move ?? "");
  });
  view.addEventListener("keydown", (event) => {
    if (!(event.key in KEYS) || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    move(KEYS[event.key]);
  });
  followFingers(view, scene);
}

/**
 * One finger turns, two fingers bring closer.
 *
 * @param {HTMLElement} view
 * @param {JarScene} scene
 */
function followFingers(view, scene) {
  /** @type {Map<number, { x: number, y: number }>} */
  const fingers = new Map();
  let apart = 0;
  function gap() {
    const [a, b] = fingers.values();
    return Math.hypot(a.x - b.x, a.y - b.y);
  }
  /** @param {PointerEvent} event */
  const place = (event) => ({ x: event.clientX, y: event.clientY });

  view.addEventListener("pointerdown", (event) => {
    view.setPointerCapture(event.pointerId);
    fingers.set(event.pointerId, place(event));
    if (fingers.size === 2) apart = gap();
  });
  view.addEventListener("pointermove", (event) => {
    const before = fingers.get(event.pointerId);
    if (!before) return;
    const now = place(event);
    fingers.set(event.pointerId, now);
    if (fingers.size === 1) {
      const turn = (now.x - before.x) * TURN_DEG_PER_PX;
      scene.stance.move({ turn, head: (now.y - before.y) * HEAD_DEG_PER_PX });
    } else if (fingers.size === 2) {
      const wide = gap();
      if (wide > 0) scene.stance.move({ reach: apart / wide });
      apart = wide;
    }
    scene.draw(true);
  });
  view.addEventListener("pointerup", (event) => fingers.delete(event.pointerId));
  view.addEventListener("pointercancel", (event) => fingers.delete(event.pointerId));
}
