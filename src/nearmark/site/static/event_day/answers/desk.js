/* What the two desks share, sheets and scale: words above the keypad, the code of a pair, news from
   the server. */
import { element, find, need, parsedPage } from "../../shared/dom.js";
import { poll } from "../../shared/poll.js";

const EVERY_MS = 15000;

/** @typedef {[string, () => unknown]} Act words of a button, and what it does */

/** News of the outbox so far: what was said meanwhile is newer than a page that was asked for. */
let news = 0;

export function hear() {
  news += 1;
}

/**
 * What has just happened, and what can be done about it.
 *
 * @param {string} state
 * @param {string} words
 * @param {Act[]} [acts]
 */
export function say(state, words, acts = []) {
  const place = need("#told");
  place.dataset.state = state;
  place.textContent = words;
  const buttons = acts.map(([text, act]) => {
    const made = element("button", text, { type: "button", className: "plain" });
    made.addEventListener("click", act);
    return made;
  });
  need("#told-acts").replaceChildren(...buttons);
}

/**
 * The number of the pair that a typed or scanned code means; the server made the list of spellings.
 *
 * @param {Record<string, number>} codes
 * @param {string} typed
 */
export function pairOf(codes, typed) {
  const plain = typed.toUpperCase().replace(/\s/g, "");
  const bare = plain.replace(/-/g, "");
  const ways = [plain, bare, /^[0-9]+$/.test(bare) ? bare.replace(/^0+/, "") : bare];
  return String(ways.map((way) => codes[way]).find(Boolean) || "");
}

/**
 * Put in a part of the page as the server has it now; returns the whole page, a refusal too.
 *
 * @param {string} address
 * @param {string} id
 * @param {() => void} [act] after it was put in
 * @param {AbortSignal} [signal]
 */
export async function renew(address, id, act, signal) {
  const before = news;
  const headers = { Accept: "text/html" };
  const answer = await fetch(address, { headers, redirect: "error", signal });
  const page = parsedPage(await answer.text());
  const made = page.getElementById(id);
  const old = need(`#${id}`);
  // Nobody's place or opened list is lost.
  const isInUse = old.contains(document.activeElement) || find("details[open]", HTMLElement, old);
  if (made && before === news && !isInUse) {
    old.replaceWith(document.adoptNode(made));
    act?.();
  }
  return page;
}

/**
 * @param {string} id
 * @param {() => void} [act]
 */
export function keepNew(id, act) {
  poll((signal) => renew(location.pathname, id, act, signal), { everyMs: EVERY_MS });
}
