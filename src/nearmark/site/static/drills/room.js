/* The screen for the room: asks every second what changed, counts down between two answers, takes
   the layers of the jar off, and goes on by keyboard, by touch or by a clicker. */
import { countdownText } from "../shared/countdown.js";
import { all, fetchedPage, find, need, parsedPage } from "../shared/dom.js";
import { offerFullScreen } from "../shared/full_screen.js";
import { poll } from "../shared/poll.js";
import { openStage } from "../jars/jar_stage.js";

const EVERY_MS = 1000;
const SHOW_MS = 200;
const GO_ON = [" ", "Enter", "PageDown", "ArrowRight"];

/** @typedef {NonNullable<Awaited<ReturnType<typeof openStage>>>} Stage */

/** @param {HTMLElement} root */
function begin(root) {
  const live = need("#room-live");
  const place = need("#room-scene");
  /** @type {Promise<Stage | null>} */
  let stage = Promise.resolve(null);
  let ends = performance.now() + Number(need("[data-live]").dataset.left);
  let shown = "";
  let isGoing = false;
  let isDrawing = false;
  /** @type {{ key: string, off: number } | null} */
  let wanted = null;

  function show() {
    const clock = find("[data-clock]");
    if (!clock) return;
    const left = Math.max(0, Math.ceil((ends - performance.now()) / 1000));
    const text = countdownText(left);
    if (clock.textContent !== text) clock.textContent = text;
  }

  function openJar() {
    const found = find("#jar-stage");
    stage = found ? openStage(found) : Promise.resolve(null);
  }

  /** @param {number} n layers off */
  async function takeOff(n) {
    const open = await stage;
    if (!open || !n) return;
    if (!open.scene.layerCounts.length) open.scene.setWhole(await open.fetchWhole());
    open.scene.takeOff(n);
  }

  /* The same page, fetched and put in place: a reload would leave the full screen. */
  /** @param {string} key */
  async function changeScene(key) {
    const fresh = await fetchedPage(location.href);
    const made = need("#room-scene", HTMLElement, fresh);
    place.replaceChildren(...document.adoptNode(made).childNodes);
    place.dataset.scene = key;
    root.classList.toggle("has-scene", place.childElementCount > 0);
    openJar();
  }

  /** @param {string} text */
  function put(text) {
    const fresh = find("[data-live]", HTMLElement, parsedPage(text));
    if (!fresh) throw new Error("not the screen");
    ends = performance.now() + Number(fresh.dataset.left);
    fresh.removeAttribute("data-left");
    const clock = find("[data-clock]", HTMLElement, fresh);
    if (clock) clock.textContent = "";
    for (const token of all("[name=csrfmiddlewaretoken]", HTMLInputElement, fresh)) {
      token.value = need("[name=csrfmiddlewaretoken]", HTMLInputElement).value;
    }
    const { scene = "", off = "0" } = fresh.dataset;
    const now = fresh.outerHTML;
    if (now !== shown) {
      const isFocused = live.contains(document.activeElement);
      live.replaceChildren(document.adoptNode(fresh));
      shown = now;
      if (isFocused) find("[data-go] button")?.focus();
      show();
    }
    draw(scene, Number(off));
  }

  /* Drawing may take seconds: neither the words nor the next step waits for it. */
  /**
   * @param {string} key
   * @param {number} off layers
   */
  async function draw(key, off) {
    wanted = { key, off };
    if (isDrawing) return;
    isDrawing = true;
    try {
      while (wanted) {
        const now = wanted;
        wanted = null;
        if (now.key !== place.dataset.scene) await changeScene(now.key);
        await takeOff(now.off);
      }
    } catch {
      need("[data-lost]").hidden = false; // drawn again after the next look
    } finally {
      isDrawing = false;
    }
  }

  /** @param {AbortSignal} [signal] */
  async function look(signal) {
    try {
      const answer = await fetch(root.dataset.now ?? "", { cache: "no-store", signal });
      if (answer.redirected || answer.status === 403) {
        location.reload(); // locked, or another coach's
        return false;
      }
      if (!answer.ok) throw new Error(String(answer.status));
      put(await answer.text());
      need("[data-lost]").hidden = true;
      return true;
    } catch (error) {
      need("[data-lost]").hidden = false;
      throw error;
    }
  }

  /**
   * @param {HTMLFormElement} form
   * @param {HTMLElement | null} button
   */
  async function go(form, button) {
    if (isGoing) return;
    isGoing = true;
    try {
      const body = new FormData(form);
      body.set("step", button?.getAttribute("value") ?? "next");
      await fetch(form.action, { method: "POST", body, redirect: "manual" });
      await look();
    } catch {
      /* the link is down: the screen says so */
    } finally {
      isGoing = false;
    }
  }

  document.addEventListener("submit", (event) => {
    if (!(event.target instanceof HTMLFormElement) || !("go" in event.target.dataset)) return;
    event.preventDefault();
    go(event.target, event.submitter);
  });
  document.addEventListener("keydown", (event) => {
    if (event.repeat || !GO_ON.includes(event.key) || !(event.target instanceof Element)) return;
    if (event.target.closest("button, a, select, #jar-view")) return;
    const form = find("[data-go]", HTMLFormElement);
    if (!form) return;
    event.preventDefault();
    go(form, null);
  });
  openJar();
  takeOff(Number(need("[data-live]").dataset.off));
  setInterval(show, SHOW_MS);
  // While the link is lost as often as else: it is one screen, and everybody looks at it.
  poll(look, { everyMs: EVERY_MS, maxWaitMs: 3 * EVERY_MS });
}

offerFullScreen(need("[data-full]"));
begin(need("[data-room]"));
