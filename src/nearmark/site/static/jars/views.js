/* The surface alone, and the cup beside the jar. */
import { need } from "../shared/dom.js";

/** A narrower view shows the jar alone, so that it is large enough to count on. */
const MIN_WIDTH_WITH_CUP = 480;

/**
 * @param {HTMLElement} view
 * @param {import("./scene.js").JarScene} scene
 */
export function offerViews(view, scene) {
  const above = need("#jar-above");
  const cup = need("#jar-cup");
  /**
   * @param {HTMLElement} button
   * @param {boolean} isOn
   */
  const press = (button, isOn) => button.setAttribute("aria-pressed", String(isOn));
  above.addEventListener("click", () => {
    scene.stance.isAbove = !scene.stance.isAbove;
    press(above, scene.stance.isAbove);
    need("#jar-told").textContent = scene.stance.words;
    scene.draw(true);
  });
  /** @param {boolean} isOn */
  const showCup = (isOn) => {
    scene.cup(isOn);
    press(cup, isOn);
  };
  cup.addEventListener("click", () => showCup(!scene.table.hasCup));
  showCup(view.clientWidth >= MIN_WIDTH_WITH_CUP);
  scene.moved = () => press(above, scene.stance.isAbove);
}
