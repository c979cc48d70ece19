/* How far the long work is, asked once a second while something is open.  Without this script the
   page is loaded again. */
import { all, fetched, find, need } from "../shared/dom.js";
import { poll } from "../shared/poll.js";

/** @typedef {{ state: string, done: number, all: number }} Progress */

/** @param {string | undefined} state */
const isOpen = (state) => state === "waiting" || state === "running";

/**
 * @param {HTMLElement} line
 * @param {Progress} now
 */
function show(line, now) {
  if (now.all) {
    const bar = need("progress", HTMLProgressElement, line);
    Object.assign(bar, { max: now.all, value: now.done });
    need("label", HTMLElement, line).textContent = `${now.done} of ${now.all}`;
  }
  if (now.state === line.dataset.is) return;
  line.dataset.is = now.state;
  need(".verdict", HTMLElement, line).textContent = now.state;
  const title = need("strong", HTMLElement, line).textContent;
  need("#jobs-told").textContent = `${title}: ${now.state}`;
}

const list = find("#jobs");
const lines = list ? all("[data-job]", HTMLElement, list) : [];
const openLines = () => lines.filter((line) => isOpen(line.dataset.is));

/** @param {AbortSignal} signal */
async function look(signal) {
  const answer = await fetched(list?.dataset.state ?? "", "application/json", signal);
  /** @type {Record<string, Progress>} */
  const states = await answer.json();
  for (const line of openLines()) {
    const now = states[line.dataset.job ?? ""];
    if (!now || !isOpen(now.state)) {
      location.reload();
      return false;
    }
    show(line, now);
  }
  return true;
}

if (openLines().length) poll(look, { everyMs: 1000, firstMs: 0, maxWaitMs: 5000 });
