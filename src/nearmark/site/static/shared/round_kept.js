/* A round that is typed and not saved: kept in this browser until the server has shown that it is
   saved. Every round has a place of its own, by person, club and thing; nobody else's is read here,
   and where somebody new comes in (sign in, join) all of them go. The keys of the rows are kept
   with them, so that a round sent once more counts nothing twice. */
import { all, element, fetched, find, need } from "./dom.js";

/** @typedef {{ at: number, title: string, url: string, fields: Record<string, string> }} Round */
/** @typedef {HTMLInputElement | HTMLSelectElement} Field */

const BOX = "nearmark-round:";
const MAX_AGE_MS = 48 * 3600 * 1000;
const KEPT_FIELD = /^(estimate|key|layer|layers|(length|width|height)_cm)-\d+$|^day$/;

function names() {
  try {
    return Object.keys(localStorage).filter((name) => name.startsWith(BOX));
  } catch {
    return [];
  }
}

/**
 * @param {string} name
 * @returns {Round | null}
 */
function read(name) {
  try {
    return JSON.parse(localStorage.getItem(name) ?? "null");
  } catch {
    return null;
  }
}

/** @param {string} name */
function drop(name) {
  try {
    localStorage.removeItem(name);
  } catch {
    /* it was never there */
  }
}

/**
 * @param {string} name
 * @param {Round} round
 */
function keep(name, round) {
  try {
    localStorage.setItem(name, JSON.stringify(round));
  } catch {
    /* the fields still hold it */
  }
}

/** @param {number} at in ms */
function clock(at) {
  const time = new Date(at);
  return [time.getHours(), time.getMinutes()].map((n) => String(n).padStart(2, "0")).join(":");
}

/** Rounds that are too old to be meant. */
function dropOld() {
  for (const name of names()) {
    const round = read(name);
    if (!round || Date.now() - round.at > MAX_AGE_MS) drop(name);
  }
}

const dropAll = () => names().forEach(drop);

/**
 * Rounds whose rows the server has, by their keys.
 *
 * @param {string[]} saved
 */
function dropSaved(saved) {
  for (const name of names()) {
    const fields = Object.entries(read(name)?.fields ?? {});
    const isSaved = fields.some(([field, value]) => {
      return field.startsWith("key-") && saved.includes(value);
    });
    if (isSaved) drop(name);
  }
}

/**
 * Links to the other rounds of the club that are kept here.
 *
 * @param {HTMLElement} list
 * @param {string} club beginning of the names of its rounds
 * @param {string} open name of the round that is on the page
 */
function showOthers(list, club, open) {
  const found = names()
    .filter((name) => name !== open && name.startsWith(club))
    .map(read)
    .filter((round) => round !== null);
  list.hidden = !found.length;
  const items = found.map((round) => {
    const item = element("li", "");
    const link = element("a", round.title, { href: round.url, className: "target" });
    item.append(link, ` typed at ${clock(round.at)}`);
    return item;
  });
  need("ul", HTMLElement, list).replaceChildren(...items);
}

/**
 * Keep what is typed in the form of a round, and bring back what was typed before.
 *
 * @param {HTMLFormElement} form
 * @param {string} place
 * @param {DOMStringMap} page what the page says about the round
 */
function keepForm(form, place, page) {
  const note = need("#round-back");
  const day = need('[name="day"]', HTMLInputElement, form);
  const address = page.address ?? "";

  const fields = () =>
    all("input, select", HTMLElement, form)
      .map((field) => /** @type {Field} */ (field))
      .filter((field) => KEPT_FIELD.test(field.name));
  /** @param {Field} field */
  const isTyped = (field) => !/^(key-|day$)/.test(field.name) && field.value.trim() !== "";

  function keepTyped() {
    if (!fields().some(isTyped)) {
      drop(place);
      return;
    }
    const typed = Object.fromEntries(fields().map((field) => [field.name, field.value]));
    keep(place, { at: Date.now(), title: page.title ?? "", url: address, fields: typed });
  }
  /** @param {Round} round */
  function bringBack(round) {
    for (const field of fields()) {
      if (!(field.name in round.fields)) continue;
      field.value = round.fields[field.name];
      const parts = field.closest("details");
      if (parts && isTyped(field)) parts.open = true;
    }
    const other = day.closest("details");
    if (other && day.value !== day.defaultValue) other.open = true;
    need("p", HTMLElement, note).textContent =
      `Typed at ${clock(round.at)} and not saved yet: it is back. Save it, or throw it away.`;
    note.hidden = false;
  }
  /**
   * A round is saved whole or not at all: one key is enough to ask.  Where the server cannot be
   * asked the round comes back, and its keys keep it from counting twice.
   *
   * @param {Round} round
   */
  async function wasSaved(round) {
    const row = Object.keys(round.fields).find((name) => {
      return name.startsWith("estimate-") && round.fields[name].trim();
    });
    if (!row) return false;
    const key = encodeURIComponent(round.fields[row.replace("estimate", "key")]);
    try {
      const answer = await fetched(`${page.asks}?key=${key}`, "application/json");
      return Boolean((await answer.json()).saved);
    } catch {
      return false;
    }
  }
  /** @param {Round} round */
  async function look(round) {
    if (await wasSaved(round)) drop(place);
    else if (!fields().some(isTyped)) bringBack(round);
  }

  const before = read(place);
  // After a refusal the server has sent back what was typed last; and somebody may have typed
  // before this script ran.
  if (page.typed === "yes" || fields().some(isTyped)) keepTyped();
  else if (before) look(before);
  need("button", HTMLElement, note).addEventListener("click", () => {
    drop(place);
    location.replace(address);
  });
  form.addEventListener("input", keepTyped);
}

/** @param {HTMLElement} here */
function begin(here) {
  const own = `${BOX}${here.dataset.roundsOf}:`;
  // Whoever typed these has left: the session is another person's.
  names()
    .filter((name) => !name.startsWith(own))
    .forEach(drop);
  find("form[action$='/sign-out/']")?.addEventListener("submit", dropAll);
  dropSaved((here.dataset.saved ?? "").split(" ").filter(Boolean));

  const club = `${own}${here.dataset.club}:`;
  const form = find("#round", HTMLFormElement);
  const place = form ? club + need('[name="thing"]', HTMLInputElement, form).value : "";
  const list = find("#rounds-kept");
  if (list) showOthers(list, club, place);
  if (form) keepForm(form, place, here.dataset);
}

dropOld();
const here = find("[data-rounds-of]");
if (here) begin(here);
else dropAll();
