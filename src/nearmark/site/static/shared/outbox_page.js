/* The outbox of the person who is signed in on this page, and the list of what it holds. */
import { all, element, find, need, parsedPage } from "./dom.js";
import { entries, Outbox } from "./outbox.js";
import { told } from "./told.js";

/** @typedef {import("./outbox.js").Entry} Entry */

const place = find("#outbox");
const others = find("#outbox-others");
const reader = place?.dataset.reader ?? "";

async function freshToken() {
  const answer = await fetch(location.href, { headers: { Accept: "text/html" } });
  const found = find("#outbox", HTMLElement, parsedPage(await answer.text()));
  return found?.dataset.reader === reader ? (found.dataset.token ?? null) : null;
}

export const outbox = new Outbox({
  reader,
  who: place?.dataset.name ?? "",
  token: place?.dataset.token ?? "",
  freshToken,
});

/** @type {((entry: Entry) => void) | null} */
let correct = null;

/**
 * What "Change" does with an entry that was refused.
 *
 * @param {(entry: Entry) => void} act
 */
export function correctBy(act) {
  correct = act;
}

/**
 * @param {string} text
 * @param {string} about for who cannot see beside what the button is
 * @param {() => void} act
 */
function button(text, about, act) {
  const made = element("button", text, { type: "button", className: "plain" });
  made.append(element("span", ` ${about}`, { className: "visually-hidden" }));
  made.addEventListener("click", act);
  return made;
}

/** @param {Entry} entry */
function line(entry) {
  const made = element("li", "");
  const isAsked = entry.state === "look";
  const state = element("span", told(isAsked ? "asked_state" : `${entry.state}_state`), {
    className: "state",
  });
  state.dataset.state = entry.state;
  const what = element("span", "");
  what.append(element("strong", entry.title), ` ${entry.shown}`);
  made.append(state, what);
  if (entry.state === "waiting") return made;
  made.append(element("p", entry.words));
  const acts = element("div", "", { className: "acts" });
  if (correct) acts.append(button(told("change"), entry.title, () => correct?.(entry)));
  const send = told(isAsked ? "as_it_is" : "send_again");
  acts.append(
    button(send, entry.title, () => outbox.again(entry, isAsked ? entry.doubts : [])),
    button(told("discard"), entry.title, () => outbox.discard(entry)),
  );
  made.append(acts);
  return made;
}

function show() {
  if (place && reader) showMine(place);
  if (others) showOthers(others);
}

/** @param {HTMLElement} list */
function showMine(list) {
  const mine = outbox.mine();
  const hadFocus = list.contains(document.activeElement);
  /** @param {string} state */
  const count = (state) => mine.filter((entry) => entry.state === state).length;
  const [waiting, refused, asked] = ["waiting", "refused", "look"].map(count);
  need("ul", HTMLElement, list).replaceChildren(...mine.map(line));
  list.hidden = !mine.length;
  if (hadFocus) list.focus();
  need(".held", HTMLElement, list).textContent = waiting ? outbox.held : "";
  const said = need("#outbox-told");
  const words = [
    waiting && told("n_waiting", { n: waiting }),
    refused && told("n_refused", { n: refused }),
    asked && told("n_asked", { n: asked }),
  ].filter(Boolean);
  const text = words.join("; ") || (said.dataset.calm ?? "");
  if (said.textContent !== text) said.textContent = text;
}

/**
 * Somebody else's, left on this device: never sent in another's name, never shown to a
 * second reader.
 *
 * @param {HTMLElement} note
 */
function showOthers(note) {
  const kept = entries().filter((e) => e.reader !== reader && e.state !== "discarded");
  const names = [...new Set(kept.map((entry) => entry.who))].join(", ");
  const { one = "", many = "" } = note.dataset;
  note.hidden = !kept.length;
  need("strong", HTMLElement, note).textContent = (kept.length === 1 ? one : many)
    .replace("{n}", String(kept.length))
    .replace("{names}", names);
  for (const list of all("details ul", HTMLElement, note)) {
    list.replaceChildren(...kept.map(lineOfOther));
  }
}

/** @param {Entry} entry */
function lineOfOther(entry) {
  const made = element("li", "");
  made.append(
    element("strong", `${entry.who}: ${entry.title}`),
    ` ${entry.shown} `,
    button(told("discard"), entry.title, () => outbox.discard(entry)),
  );
  return made;
}

outbox.show = show;
window.addEventListener("online", () => outbox.now());
window.addEventListener("pageshow", () => outbox.now());
document.addEventListener("visibilitychange", () => {
  if (!document.hidden) outbox.now();
});
window.addEventListener("storage", (event) => outbox.heard(event));
// The page's own module, which listens, has run by then.
document.addEventListener("DOMContentLoaded", () => {
  show();
  outbox.now();
});
