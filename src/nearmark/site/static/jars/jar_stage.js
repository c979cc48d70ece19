/* A jar on a page: fetch it, set the scene, hands on it; still pictures where there is no WebGL. */
import { element, fetched, need } from "../shared/dom.js";
import { Stance } from "./camera.js";
import { decode } from "./decode.js";
import { offerMoves } from "./hands.js";
import { offerPeeling } from "./peeling.js";
import { offerViews } from "./views.js";

function hasWebGL() {
  try {
    return Boolean(document.createElement("canvas").getContext("webgl2"));
  } catch {
    return false;
  }
}

/** @param {string} address */
async function jarAt(address) {
  const answer = await fetched(address, "application/octet-stream");
  return decode(await answer.arrayBuffer());
}

/**
 * @param {string} address
 * @param {string} words
 * @param {string} caption
 */
function still(address, words, caption) {
  const figure = element("figure", "", { className: "jar-still" });
  figure.append(element("img", "", { alt: words, src: address }), element("figcaption", caption));
  return figure;
}

/**
 * @param {HTMLElement} stage
 * @param {boolean} isOn
 */
function showStills(stage, isOn) {
  const { top = "", side = "", sayTop = "", saySide = "" } = stage.dataset;
  const { sayFromTop = "", sayFromSide = "" } = stage.dataset;
  const box = need("#jar-stills");
  if (isOn && !box.childElementCount) {
    box.append(still(top, sayTop, sayFromTop), still(side, saySide, sayFromSide));
  }
  box.hidden = !isOn;
}

/** @param {HTMLElement} stage */
function onlyStills(stage) {
  need("#jar-view").hidden = true;
  need("#jar-tools").hidden = true;
  showStills(stage, true);
  stage.dataset.mode = "still";
}

/**
 * Show the jar of a stage.  What is returned takes its layers off; nothing where there are still
 * pictures only.
 *
 * @param {HTMLElement} stage
 */
export async function openStage(stage) {
  try {
    return await begin(stage);
  } catch {
    onlyStills(stage);
    return null;
  }
}

/** @param {HTMLElement} stage */
async function begin(stage) {
  if (!hasWebGL()) {
    onlyStills(stage);
    return null;
  }
  const view = need("#jar-view");
  const tools = need("#jar-tools");
  view.hidden = false;
  const shell = stage.dataset.shell ?? "";
  const [{ JarScene }, jar] = await Promise.all([import("./scene.js"), jarAt(shell)]);
  const canvas = element("canvas", "");
  canvas.setAttribute("aria-hidden", "true");
  view.append(canvas);
  const stance = new Stance(stage.dataset);
  const scene = new JarScene(canvas, jar, stance);
  need("#jar-wait").remove();
  view.tabIndex = 0;
  view.setAttribute("role", "group");
  view.setAttribute("aria-label", stage.dataset.sayView ?? "");
  tools.hidden = need("#jar-more").hidden = false;
  offerMoves(view, tools, scene);
  const { whole } = stage.dataset;
  if (whole) offerPeeling(scene, Number(stage.dataset.layer), stage.dataset, () => jarAt(whole));
  offerViews(view, scene);

  const sides = need("#jar-hidden", HTMLSelectElement);
  sides.addEventListener("change", () => scene.hide(Number(sides.value)));
  const stillSwitch = need("#jar-still-switch");
  const toStills = stillSwitch.textContent;
  stillSwitch.addEventListener("click", () => {
    const isStill = need("#jar-stills").hidden;
    showStills(stage, isStill);
    view.hidden = tools.hidden = isStill;
    stillSwitch.textContent = isStill ? (stage.dataset.sayTurn ?? "") : toStills;
    if (!isStill) scene.fit();
  });
  new ResizeObserver(() => scene.fit()).observe(view);
  const night = matchMedia("(prefers-color-scheme: dark)");
  night.addEventListener("change", () => scene.paint());
  canvas.addEventListener("webglcontextlost", (event) => {
    event.preventDefault();
    onlyStills(stage);
  });
  stage.dataset.mode = "turn";
  return { scene, fetchWhole: () => jarAt(whole ?? "") };
}
