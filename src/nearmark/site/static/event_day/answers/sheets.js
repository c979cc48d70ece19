/* What is known of every answer: what the server said, and over it what this device has not sent
   yet. */
import { pageData } from "../../shared/dom.js";
import { newKey } from "../../shared/outbox.js";
import { outbox } from "../../shared/outbox_page.js";
import { told } from "../../shared/told.js";
import { pairOf } from "./desk.js";

/** @typedef {import("../../shared/outbox.js").Entry} Entry */

/**
 * An answer as the server has it: free, read by this person ("own"), or read by two ("full").
 *
 * @typedef {{ state: string, own: string, key: string }} Cell
 */

/**
 * @typedef {object} Sheet
 * @property {string} code
 * @property {string} checked the code as it is on the paper
 * @property {string} school
 * @property {string} heat in words
 * @property {Record<string, Cell | undefined>} cells by the number of the item; none where the
 *   division of the pair does not estimate it
 */

/**
 * An answer as this person sees it.
 *
 * @typedef {object} View
 * @property {string} state empty, draft, waiting, saved, full, refused, look, or none: this pair
 *   does not estimate the item
 * @property {string} value
 * @property {string} words
 * @property {string} [key] of the reading, where there is one
 */

/**
 * The name of an answer, for the server and for the outbox.
 *
 * @param {string} pair number of the pair
 * @param {string} item number of the item
 */
export const nameOf = (pair, item) => `${pair}-${item}`;

/** @param {string} name */
export const draftOf = (name) => `entry-${name}`;

/** @param {View} view */
export const isOpen = (view) => ["", "draft", "refused", "look"].includes(view.state);

/**
 * The last entry of an answer that is still on this device.
 *
 * @param {string} name
 */
export const pendingOf = (name) =>
  outbox
    .mine()
    .filter((entry) => entry.cell === name)
    .pop();

/**
 * Put a reading into the outbox.  False where the browser keeps nothing.
 *
 * @param {object} reading
 * @param {string} reading.name of the answer
 * @param {string} reading.title
 * @param {string} reading.url
 * @param {string} reading.value
 */
export function keepReading({ name, title, url, value }) {
  const before = pendingOf(name);
  if (before && before.fields[`v-${name}`] === value) return true;
  const key = newKey();
  const fields = { [`v-${name}`]: value, [`k-${name}`]: key };
  if (!outbox.add({ key, name, cell: name, url, title, shown: value, fields })) return false;
  // What was refused or asked is answered by what is typed now.
  if (before && !before.fields.undo) outbox.discard(before);
  outbox.dropDraft(draftOf(name));
  return true;
}

/**
 * Put the taking back of a reading into the outbox, behind the reading itself if that has not
 * arrived yet: the server takes them in turn.  False where the browser keeps nothing.
 *
 * @param {object} reading
 * @param {string} reading.name of the answer
 * @param {string} reading.title
 * @param {string} reading.url
 * @param {string} reading.key
 */
export function keepUndo({ name, title, url, key }) {
  const fields = { undo: key };
  return outbox.add({
    key: newKey(),
    name: key,
    cell: name,
    url,
    title,
    shown: told("taken_back"),
    fields,
  });
}

export class Sheets {
  /** @type {Record<string, Sheet | undefined>} by the number of the pair */
  sheets = {};
  /** @type {Record<string, number>} */
  codes = {};

  constructor() {
    this.takeOver();
  }

  /** Read what the page holds now. */
  takeOver() {
    Object.assign(this, pageData("sheets"));
  }

  /** @param {string} pair */
  has(pair) {
    return Boolean(this.sheets[pair]);
  }

  /**
   * @param {string} pair
   * @returns {Sheet}
   */
  of(pair) {
    const sheet = this.sheets[pair];
    if (!sheet) throw new Error(`no sheet of pair ${pair}`);
    return sheet;
  }

  /**
   * The number of the pair that a typed code means; empty where there is no such sheet.
   *
   * @param {string} typed
   */
  pairOf(typed) {
    const pair = pairOf(this.codes, typed);
    return this.has(pair) ? pair : "";
  }

  /**
   * @param {string} pair
   * @param {string} item
   * @returns {View}
   */
  view(pair, item) {
    const name = nameOf(pair, item);
    const known = this.of(pair).cells[item];
    const last = pendingOf(name);
    if (last && !last.fields.undo) {
      const { state, key, words } = last;
      return { state, key, words, value: last.fields[`v-${name}`] };
    }
    if (!known) return { state: "none", value: "", words: "" };
    if (!last && known.state === "own") {
      return { state: "saved", value: known.own, key: known.key, words: "" };
    }
    if (known.state === "full") return { state: "full", value: "", words: told("read_by_two") };
    const typed = outbox.draft(draftOf(name));
    if (typed) return { state: "draft", value: typed, words: told("draft") };
    return { state: "", value: "", words: "" };
  }

  /**
   * The server has saved a reading, or taken one back.
   *
   * @param {Entry} entry
   */
  hasSaved(entry) {
    if (!entry.cell) return;
    const [pair, item] = entry.cell.split("-");
    const sheet = this.sheets[pair];
    if (!sheet) return;
    sheet.cells[item] = entry.fields.undo
      ? { state: "free", own: "", key: "" }
      : { state: "own", own: entry.fields[`v-${entry.cell}`], key: entry.key };
  }
}
