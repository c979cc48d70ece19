/* The clock: the server says how long a heat has run, this counts between two answers.
   A reload or a sleep loses nothing, because nothing is kept here. */
import { countdownText } from "../../shared/countdown.js";
import { all, find, need } from "../../shared/dom.js";
import { offerFullScreen } from "../../shared/full_screen.js";
import { poll } from "../../shared/poll.js";
import { Horn } from "./horn.js";

const EVERY_MS = 3000;
const MAX_ANSWER_MS = 4000;
const MAX_SILENCE_MS = 8000;
const SHOW_MS = 200;
const MAX_JUMP_MS = 250;

/**
 * What the server says.
 *
 * @typedef {object} Hall
 * @property {string} heat empty before the first one
 * @property {string} heat_text as a headline, in the language of the page
 * @property {number} minutes
 * @property {number} last_minutes
 * @property {string} last_text
 * @property {number} elapsed_ms
 * @property {boolean} is_paused
 * @property {boolean} is_stopped
 * @property {boolean} is_set_back whether the computer's clock is before the start of the heat
 * @property {string} ends
 * @property {string} next_heat
 * @property {string[]} next_codes
 */

/** @param {string} name */
const named = (name) => `[data-part="${name}"]`;

/** @param {number} elapsedMs */
const stamp = (elapsedMs) => ({ elapsedMs, ticks: performance.now(), wall: Date.now() });

async function stayAwake() {
  // Only where the page is served by https or from this computer; elsewhere set it by hand.
  try {
    await navigator.wakeLock?.request("screen");
  } catch {
    /* not granted */
  }
}

/**
 * One clock of the page: a screen may show one for each room.
 *
 * @param {HTMLElement} root
 * @param {Horn} horn
 * @param {boolean} isBig whether it fills a screen
 */
function begin(root, horn, isBig) {
  /** @type {Hall} */
  let hall = JSON.parse(root.dataset.first ?? "");
  let base = stamp(hall.elapsed_ms);
  let answeredAt = performance.now();
  let shown = root.dataset.state ?? "";

  // Two local clocks: one is still in a sleep, the other can be set back.  The later one is right.
  function elapsedMs() {
    if (hall.is_paused) return base.elapsedMs;
    return base.elapsedMs + Math.max(performance.now() - base.ticks, Date.now() - base.wall);
  }

  /** @param {string} name */
  const part = (name) => need(named(name), HTMLElement, root);

  /**
   * @param {string} name
   * @param {string} text
   */
  function write(name, text) {
    if (part(name).textContent !== text) part(name).textContent = text;
  }

  function look() {
    if (!hall.heat) return { state: "not started", left: 0 };
    const full = hall.minutes * 60000;
    if (hall.is_set_back) return { state: "set back", left: full };
    const left = hall.is_stopped ? 0 : Math.min(full, Math.max(0, full - elapsedMs()));
    if (left === 0) return { state: "over", left };
    if (hall.is_paused) return { state: "paused", left };
    return { state: left <= hall.last_minutes * 60000 ? "last minutes" : "running", left };
  }

  function show() {
    const { state, left } = look();
    const seconds = Math.ceil(left / 1000);
    write("left", countdownText(seconds));
    part("link").hidden = performance.now() - answeredAt <= MAX_SILENCE_MS;
    if (find(named("ends"), HTMLElement, root)) write("ends", hall.ends);
    if (state !== shown) change(state);
    if (isBig) showNames(state);
  }

  /** @param {string} state */
  function change(state) {
    const was = shown;
    shown = state;
    root.dataset.state = state;
    if (state === "last minutes" && was === "running") horn.sound(1);
    if (state === "over" && was !== "not started") horn.sound(3);
    if (state === "paused" || (was === "paused" && state !== "over")) horn.sound(2);
    const changesForms = [state, was].includes("over") || [state, was].includes("paused");
    if (changesForms && "reload" in root.dataset) location.reload();
  }

  /** @param {string} state */
  function showNames(state) {
    write("heat", hall.heat_text);
    write("last", hall.last_text);
    write("next-heat", hall.next_heat);
    write("next-codes", hall.next_codes.join("  "));
    const isBetween = state === "not started" || state === "over";
    part("coming").hidden = !hall.next_heat || !isBetween;
    part("until").hidden = !hall.ends;
  }

  async function ask() {
    const sent = performance.now();
    const signal = AbortSignal.timeout(MAX_ANSWER_MS);
    const answer = await fetch(root.dataset.now ?? "", { cache: "no-store", signal });
    if (!answer.ok) throw new Error(String(answer.status));
    /** @type {Hall} */
    const next = await answer.json();
    const wayMs = (performance.now() - sent) / 2;
    const isSame =
      next.heat === hall.heat && next.minutes === hall.minutes && next.is_paused === hall.is_paused;
    const off = next.elapsed_ms + wayMs - elapsedMs();
    // A slow answer must not make the seconds jump.
    if (!isSame || Math.abs(off) > MAX_JUMP_MS + wayMs) base = stamp(next.elapsed_ms + wayMs);
    hall = next;
    answeredAt = performance.now();
    show();
  }

  setInterval(show, SHOW_MS);
  show();
  // In the background too: it sounds there.  While the link is lost as often as else: it is one
  // screen, and everybody looks at it.
  poll(ask, { everyMs: EVERY_MS, firstMs: 0, maxWaitMs: EVERY_MS, whileHidden: true });
}

/** @param {Horn} horn */
function offerSound(horn) {
  const button = find(named("sound"));
  if (!button || !horn.isThere) return;
  button.hidden = false;
  button.addEventListener("click", () => {
    horn.turn(!horn.isOn);
    button.textContent = (horn.isOn ? button.dataset.on : button.dataset.off) ?? "";
    button.setAttribute("aria-pressed", String(horn.isOn));
  });
}

function beginPage() {
  const isBig = document.body.classList.contains("clock");
  const horn = new Horn();
  offerSound(horn);
  const full = find(named("full"));
  if (full) offerFullScreen(full);
  if (isBig) {
    stayAwake();
    document.addEventListener("visibilitychange", () => {
      if (!document.hidden) stayAwake();
    });
  }
  for (const root of all("[data-clock]")) begin(root, horn, isBig);
}

beginPage();
