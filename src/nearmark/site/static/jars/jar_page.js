/* The practice page: fetch the jar, set the scene, hands on it; still pictures where there is no WebGL. */
import { decode } from "./jar_decode.js";
import { Stance } from "./jar_camera.js";

const stage = document.getElementById("jar-stage");
const by = (id) => document.getElementById(id);
const calm = matchMedia("(prefers-reduced-motion: reduce)");
const STEP = {
  left: { turn: 15 },
  right: { turn: -15 },
  up: { head: 8 },
  down: { head: -8 },
  near: { reach: 0.85 },
  far: { reach: 1 / 0.85 },
};
const KEYS = {
  ArrowLeft: "left",
  ArrowRight: "right",
  ArrowUp: "up",
  ArrowDown: "down",
  "+": "near",
  "=": "near",
  "-": "far",
};

function hasWebGL() {
  try {
    return Boolean(document.createElement("canvas").getContext("webgl2"));
  } catch {
    return false;
  }
}

function still(address, words, caption) {
  const figure = document.createElement("figure"),
    image = new Image(),
    text = document.createElement("figcaption");
  figure.className = "jar-still";
  Object.assign(image, { alt: words, src: address });
  text.textContent = caption;
  figure.append(image, text);
  return figure;
}

function showStills(isOn) {
  const box = by("jar-stills");
  if (isOn && !box.childElementCount)
    box.append(
      still(stage.dataset.top, "The jar and a cup from straight above", "From above"),
      still(stage.dataset.side, "The jar and a cup from the side", "From the side"),
    );
  box.hidden = !isOn;
}

async function bytes(address) {
  const answer = await fetch(address);
  if (!answer.ok) throw new Error(answer.status);
  return answer.arrayBuffer();
}

function hands(view, scene, stance) {
  const act = (name) => {
    stance.move(STEP[name]);
    scene.draw(true);
    by("jar-told").textContent = stance.words;
  };
  by("jar-tools").addEventListener("click", (event) => {
    const name = event.target.closest("[data-move]")?.dataset.move;
    if (name) act(name);
  });
  view.addEventListener("keydown", (event) => {
    if (!(event.key in KEYS) || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    act(KEYS[event.key]);
  });
  const fingers = new Map();
  let apart = 0;
  const gap = () => {
    const [a, b] = [...fingers.values()];
    return Math.hypot(a.x - b.x, a.y - b.y);
  };
  view.addEventListener("pointerdown", (event) => {
    view.setPointerCapture(event.pointerId);
    fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
    if (fingers.size === 2) apart = gap();
  });
  view.addEventListener("pointermove", (event) => {
    const before = fingers.get(event.pointerId);
    if (!before) return;
    fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
    if (fingers.size === 2) {
      const now = gap();
      if (now > 0) stance.move({ reach: apart / now });
      apart = now;
    } else if (fingers.size === 1)
      stance.move({
        turn: (event.clientX - before.x) * 0.45,
        head: (event.clientY - before.y) * 0.3,
      });
    scene.draw(true);
  });
  for (const name of ["pointerup", "pointercancel"])
    view.addEventListener(name, (event) => fingers.delete(event.pointerId));
}

/* Layer after layer comes off; stepwise where motion is not wanted. */
function peeling(scene) {
  const told = by("jar-peeled"),
    seen = Number(stage.dataset.layer);
  let isBusy = false;
  const counts = () => scene.layers.map((layer) => layer.count);
  const say = () => {
    const n = scene.off,
      all = counts();
    if (!n) {
      told.textContent = "";
      return;
    }
    const out = all.slice(0, n).reduce((a, b) => a + b, 0);
    told.textContent = `Layer ${n} of ${all.length}: ${all[n - 1]} pieces${seen ? `; from above you saw about ${seen}` : ""}. Taken off so far: ${out.toLocaleString("en")}.`;
  };
  const one = () =>
    new Promise((done) => {
      if (scene.off >= scene.layers.length) {
        done();
        return;
      }
      const end = () => {
        scene.showLayers(scene.off + 1);
        say();
        done();
      };
      if (calm.matches) {
        end();
        return;
      }
      const begun = performance.now();
      const frame = (now) => {
        const share = Math.min(1, (now - begun) / 520);
        if (share >= 1) {
          end();
          return;
        }
        scene.movedAt = performance.now();
        scene.showLayers(scene.off, Math.max(0.001, share * share));
        requestAnimationFrame(frame);
      };
      requestAnimationFrame(frame);
    });
  const ready = async () => {
    if (!scene.layers) scene.setWhole(decode(await bytes(stage.dataset.whole)));
  };
  const once = (work) => async () => {
    if (isBusy) return;
    isBusy = true;
    try {
      await ready();
      await work();
    } catch {
      told.textContent = "The whole jar could not be fetched. Load the page again.";
    } finally {
      isBusy = false;
    }
  };
  by("jar-peel-step").addEventListener("click", once(one));
  by("jar-peel-back").addEventListener(
    "click",
    once(async () => {
      scene.showLayers(0);
      say();
    }),
  );
  by("jar-peel-go").addEventListener(
    "click",
    once(async () => {
      if (scene.off >= scene.layers.length) scene.showLayers(0);
      // Where motion is not wanted a layer goes by each press.
      do {
        await one();
      } while (!calm.matches && scene.off < scene.layers.length);
    }),
  );
  by("jar-grid").addEventListener("click", (event) => {
    const isOn = event.target.getAttribute("aria-pressed") !== "true";
    event.target.setAttribute("aria-pressed", String(isOn));
    if (isOn) {
      scene.stance.move({ head: 90 });
      scene.draw(true);
    }
    scene.grid(isOn);
  });
  by("jar-peel").hidden = false;
}

async function begin() {
  if (!hasWebGL()) {
    showStills(true);
    stage.dataset.mode = "still";
    return;
  }
  const view = by("jar-view");
  view.hidden = false;
  const [{ JarScene }, content] = await Promise.all([
    import("./jar_scene.js"),
    bytes(stage.dataset.shell),
  ]);
  const canvas = document.createElement("canvas");
  canvas.setAttribute("aria-hidden", "true");
  view.append(canvas);
  const stance = new Stance();
  const scene = new JarScene(canvas, decode(content), stance);
  by("jar-wait").remove();
  Object.assign(view, { tabIndex: 0 });
  view.setAttribute("role", "group");
  view.setAttribute(
    "aria-label",
    "The jar on the table. Arrow keys turn it and move your head; plus and minus bring it closer.",
  );
  by("jar-tools").hidden = by("jar-more").hidden = false;
  hands(view, scene, stance);
  if (stage.dataset.whole) peeling(scene);
  by("jar-hidden").addEventListener("change", (event) => scene.hide(Number(event.target.value)));
  by("jar-still-switch").addEventListener("click", (event) => {
    const isStill = by("jar-stills").hidden;
    showStills(isStill);
    view.hidden = by("jar-tools").hidden = isStill;
    event.target.textContent = isStill ? "Turn it myself" : "Still pictures";
    if (!isStill) scene.fit();
  });
  new ResizeObserver(() => scene.fit()).observe(view);
  matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => scene.paint());
  canvas.addEventListener("webglcontextlost", (event) => {
    event.preventDefault();
    view.hidden = true;
    by("jar-tools").hidden = true;
    showStills(true);
    stage.dataset.mode = "still";
  });
  stage.dataset.mode = "turn";
}

if (stage)
  begin().catch(() => {
    by("jar-view").hidden = true;
    showStills(true);
    stage.dataset.mode = "still";
  });
