/* The desk with the scale, with or without a link: a cup is kept and the form is free for the next.
   Without this script the same form is sent and the page comes back. */
import { element, find, need, pageData } from "../../shared/dom.js";
import { newKey } from "../../shared/outbox.js";
import { correctBy, outbox } from "../../shared/outbox_page.js";
import { told } from "../../shared/told.js";
import { hear, keepNew, pairOf, renew, say } from "./desk.js";

/** @typedef {import("../../shared/outbox.js").Entry} Entry */
/** @typedef {import("./desk.js").Act} Act */

const SCALE = "nearmark-scale";
const NAMES = ["pair", "cup", "gross_g"];
/** What is saved sooner than this is not first called waiting. */
const MIN_WAITING_MS = 400;

/** @param {string} name */
const draftOf = (name) => `weigh-in-${name}`;

/** @param {Entry} entry */
const isOurs = (entry) => entry.name === "cup" || Boolean(entry.isCup);

/**
 * The scale of this desk is the same all day.
 *
 * @param {HTMLSelectElement} scale
 */
function keepScale(scale) {
  try {
    scale.value = scale.value || localStorage.getItem(SCALE) || "";
  } catch {
    /* chosen by hand */
  }
  if (scale.selectedIndex < 0) scale.selectedIndex = 0;
  scale.addEventListener("change", () => {
    try {
      localStorage.setItem(SCALE, scale.value);
    } catch {
      /* asked again next time */
    }
  });
}

/** @param {HTMLFormElement} form */
function begin(form) {
  /** @type {{ codes: Record<string, number>, pairs: Record<string, string> }} */
  const known = pageData("pairs");
  const fields = NAMES.map((name) => need(`[name="${name}"]`, HTMLInputElement, form));
  const [pair] = fields;
  const scale = find('[name="scale"]', HTMLSelectElement, form);
  const who = element("p", "", { className: "help", id: "who" });
  /** @type {Entry | null} */
  let corrected = null;

  function sayWho() {
    const typed = pair.value.trim();
    const found = pairOf(known.codes, typed);
    const unknown = typed ? told("no_pair") : "";
    who.textContent = found ? known.pairs[found] : unknown;
  }
  function empty() {
    for (const field of fields) {
      field.value = "";
      outbox.dropDraft(draftOf(field.name));
    }
    // A cup of another scale was the exception.
    if (scale?.dataset.own) scale.value = scale.dataset.own;
    sayWho();
    pair.focus();
  }
  /** @param {Entry} entry */
  function change(entry) {
    for (const field of fields) field.value = entry.fields[field.name];
    if (scale && entry.fields.scale) scale.value = entry.fields.scale;
    sayWho();
    corrected = entry;
    pair.focus();
    pair.select();
  }
  /**
   * Behind the reading itself, if that has not arrived yet: the server takes them in turn.
   *
   * @param {string} key
   * @param {string} title
   */
  function takeBack(key, title) {
    const fields = { undo: key };
    const more = { isCup: true, url: form.action, shown: told("taken_back") };
    return outbox.add({ key: newKey(), name: key, title, fields, ...more });
  }

  /**
   * What waits for an answer comes before what is done.
   *
   * @param {string} state
   * @param {string} words
   * @param {Act[]} [acts]
   */
  function tell(state, words, acts) {
    const first = outbox.mine().find((entry) => {
      return isOurs(entry) && (entry.state === "refused" || entry.state === "look");
    });
    if (!first) {
      say(state, words, acts);
      return;
    }
    /** @type {Act} */
    const edit = [told("change_it"), () => change(first)];
    const back = (first.back ?? []).map(([key, title]) => {
      return /** @type {Act} */ ([told("take_back", { title }), () => takeBack(key, title)]);
    });
    if (first.state === "look") {
      const asItIs = () => settle(first, first.doubts ?? []);
      say("look", first.words, [[told("as_it_is"), asItIs], edit, ...back]);
      return;
    }
    if (back.length) back.push([told("send_again"), () => settle(first, [])]);
    const { title, shown, words: why } = first;
    say("refused", told("refused", { title, shown, words: why }), [edit, ...back]);
  }
  /**
   * @param {Entry} entry
   * @param {string[]} doubts
   */
  function settle(entry, doubts) {
    if (corrected?.key === entry.key) {
      corrected = null;
      empty();
    }
    outbox.again(entry, doubts);
  }

  /** @param {Entry} entry */
  function tellWaiting(entry) {
    if (!outbox.waiting().some((one) => one.key === entry.key)) return;
    tell("waiting", told("is_kept", { title: entry.title, shown: entry.shown }));
  }
  outbox.listen(({ entry, state, words }) => {
    if (!isOurs(entry)) return;
    hear();
    if (state === "saved") {
      if (entry.isCup) tell("saved", told("is_taken_back", { title: entry.title }));
      else tell("saved", words, [[told("undo"), () => takeBack(entry.key, entry.title)]]);
      renew(location.pathname, "so-far").catch(() => {
        /* the link is down: what is here stays */
      });
      return;
    }
    if (state === "waiting") {
      setTimeout(() => tellWaiting(entry), MIN_WAITING_MS);
      return;
    }
    tell("", "");
    // The cup is still on the scale: what was typed comes back, unless the next one is being typed.
    const isFree = fields.every((field) => !field.value);
    if (!entry.isCup && state !== "discarded" && isFree) change(entry);
  });
  correctBy((entry) => {
    if (entry.name === "cup") change(entry);
    else location.href = entry.page;
  });

  need("#take-back").addEventListener("submit", (event) => {
    const button = event.submitter;
    if (!(button instanceof HTMLButtonElement)) return;
    if (takeBack(button.value, button.dataset.title ?? "")) event.preventDefault();
  });
  form.addEventListener("submit", (event) => {
    const key = newKey();
    const given = Object.fromEntries(fields.map((field) => [field.name, field.value.trim()]));
    const chosen = [find('[name="item"]', HTMLSelectElement, form), scale];
    const more = chosen.flatMap((one) => (one ? [[one.name, one.value]] : []));
    const isKept = outbox.add({
      key,
      name: "cup",
      url: form.action,
      title: told("cup_of", { pair: given.pair, cup: given.cup }),
      shown: `${given.gross_g} g`,
      fields: { ...given, ...Object.fromEntries(more), key },
    });
    if (!isKept) return;
    event.preventDefault();
    if (corrected) outbox.discard(corrected);
    corrected = null;
    empty();
  });

  fields.forEach((field, at) => {
    if (!field.value) field.value = outbox.draft(draftOf(field.name));
    field.addEventListener("input", () => outbox.keepDraft(draftOf(field.name), field.value));
    field.addEventListener("keydown", (event) => {
      const next = fields.slice(at + 1).find((one) => !one.value);
      if (event.key !== "Enter" || !next) return;
      event.preventDefault();
      next.focus();
    });
  });
  if (scale) keepScale(scale);
  pair.closest(".field")?.append(who);
  pair.setAttribute("aria-describedby", "who");
  pair.addEventListener("input", sayWho);
  sayWho();
  tell("", "");
  (fields.find((field) => !field.value) ?? pair).focus();
  keepNew("so-far");
}

const form = find("#cup", HTMLFormElement);
if (form) begin(form);
