/* Layer after layer comes off; stepwise where motion is not wanted. */
import { need } from "../shared/dom.js";

/** @typedef {import("./scene.js").JarScene} JarScene */

const FLIGHT_MS = 520;

/**
 * @param {JarScene} scene
 * @param {number} seen pieces of the top layer that can be seen from above; 0 where nobody knows
 * @param {DOMStringMap} said what the page says of layers
 * @param {() => Promise<import("./decode.js").Jar>} fetchWhole
 */
export function offerPeeling(scene, seen, said, fetchWhole) {
  const calm = matchMedia("(prefers-reduced-motion: reduce)");
  const told = need("#jar-peeled");
  let isBusy = false;

  function say() {
    const n = scene.off;
    const counts = scene.layerCounts;
    const off = counts.slice(0, n).reduce((a, b) => a + b, 0);
    const text = (seen ? said.saySeen : said.sayLayer) ?? "";
    told.textContent = n
      ? text
          .replace("{n}", String(n))
          .replace("{all}", String(counts.length))
          .replace("{pieces}", String(counts[n - 1]))
          .replace("{seen}", seen.toLocaleString(document.documentElement.lang))
          .replace("{off}", off.toLocaleString(document.documentElement.lang))
      : "";
  }
  /** Lift the top layer until it is gone. */
  function fly() {
    const begun = performance.now();
    return new Promise((done) => {
      /** @param {number} now */
      function frame(now) {
        const share = (now - begun) / FLIGHT_MS;
        if (share >= 1) {
          done(undefined);
          return;
        }
        scene.takeOff(scene.off, Math.max(0.001, share * share));
        requestAnimationFrame(frame);
      }
      requestAnimationFrame(frame);
    });
  }
  async function takeOne() {
    if (scene.off >= scene.layerCounts.length) return;
    if (!calm.matches) await fly();
    scene.takeOff(scene.off + 1);
    say();
  }
  function putBack() {
    scene.takeOff(0);
    say();
  }
  async function takeAll() {
    if (scene.off >= scene.layerCounts.length) scene.takeOff(0);
    // Where motion is not wanted a layer goes by each press.
    do await takeOne();
    while (!calm.matches && scene.off < scene.layerCounts.length);
  }

  /**
   * @param {string} id of a button
   * @param {() => unknown} act
   */
  function offer(id, act) {
    need(id).addEventListener("click", async () => {
      if (isBusy) return;
      isBusy = true;
      try {
        if (!scene.layerCounts.length) scene.setWhole(await fetchWhole());
        await act();
      } catch {
        told.textContent = said.sayLost ?? "";
      } finally {
        isBusy = false;
      }
    });
  }
  offer("#jar-peel-step", takeOne);
  offer("#jar-peel-back", putBack);
  offer("#jar-peel-go", takeAll);
  const grid = need("#jar-grid");
  grid.addEventListener("click", () => {
    const isOn = grid.getAttribute("aria-pressed") !== "true";
    grid.setAttribute("aria-pressed", String(isOn));
    if (isOn) scene.stance.move({ head: 90 });
    if (isOn) scene.draw(true);
    scene.grid(isOn);
  });
  need("#jar-peel").hidden = false;
}
