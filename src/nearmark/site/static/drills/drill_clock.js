/* Minutes and seconds left in a mock contest, counted on from what the server said; at the end, and
   while it has not begun, the page asks again.  A local clock that is set back gives no time: the
   later of two counts. */
import { countdownText } from "../shared/countdown.js";
import { all, find } from "../shared/dom.js";

const RELOAD_MS = 1000;
const WAITING_MS = 4000;
const SHOW_MS = 250;

const begun = { ticks: performance.now(), wall: Date.now() };
const goneS = () => Math.max(performance.now() - begun.ticks, Date.now() - begun.wall) / 1000;
/** @type {WeakMap<HTMLElement, number>} */
const firstSeen = new WeakMap();

/** @param {HTMLElement} place */
function show(place) {
  const since = firstSeen.get(place) ?? goneS();
  firstSeen.set(place, since);
  const seconds = Number(place.dataset.seconds);
  const left = Math.max(0, Math.ceil(seconds - (goneS() - since)));
  const text = countdownText(left);
  if (place.textContent !== text) place.textContent = text;
  if (left > 0 || seconds === 0) return;
  place.dataset.seconds = "0";
  // Where somebody types, the page stays.
  if (!find("form.answering")) setTimeout(() => location.reload(), RELOAD_MS);
}

const showAll = () => all("[data-seconds]").forEach(show);

if (find("[data-waits]")) setTimeout(() => location.reload(), WAITING_MS);
setInterval(showAll, SHOW_MS);
showAll();
