/* The lines of the one sheet that is open: a field, its buttons and what became of it, for each
   item. */
import { all, need } from "../../shared/dom.js";
import { newKey } from "../../shared/outbox.js";
import { told } from "../../shared/told.js";
import { isOpen, nameOf } from "./sheets.js";

/** @typedef {import("./sheets.js").Sheets} Sheets */

/** States that the server says no words of. */
const PLAIN = ["saved", "waiting"];

/** @param {HTMLElement} place */
function lineOf(place) {
  return {
    place,
    item: place.dataset.item ?? "",
    label: need("label strong", HTMLElement, place).textContent ?? "",
    input: need("input[type=text]", HTMLInputElement, place),
    key: need("input[type=hidden]", HTMLInputElement, place),
    undo: need("[data-undo]", HTMLButtonElement, place),
    asItIs: need("[data-as-it-is]", HTMLButtonElement, place),
    state: need(".state", HTMLElement, place),
  };
}

/** @typedef {ReturnType<typeof lineOf>} Line */

/** @param {HTMLFormElement} form */
export const linesOf = (form) => all("[data-item]", HTMLElement, form).map(lineOf);

/**
 * Items of a sheet that this person has still to type.
 *
 * @param {Sheets} sheets
 * @param {string} pair
 * @param {Line[]} lines
 */
export function missingOf(sheets, pair, lines) {
  return lines.filter((line) => isOpen(sheets.view(pair, line.item))).map((line) => line.label);
}

/**
 * Show a sheet in the form.
 *
 * @param {Sheets} sheets
 * @param {string} pair
 * @param {Line[]} lines
 */
export function drawSheet(sheets, pair, lines) {
  const sheet = sheets.of(pair);
  const missing = missingOf(sheets, pair, lines);
  need("#sheet-code").textContent = sheet.checked;
  need("#sheet-pair").textContent = `${sheet.school}, ${sheet.heat}`;
  need("#sheet-left").textContent = missing.length
    ? told("still_to_type", { items: missing.join(", ") })
    : told("all_read");
  for (const line of lines) drawLine(sheets, pair, line);
}

/**
 * @param {Sheets} sheets
 * @param {string} pair
 * @param {Line} line
 */
function drawLine(sheets, pair, line) {
  const { input, key, undo, asItIs, state } = line;
  const name = nameOf(pair, line.item);
  const view = sheets.view(pair, line.item);
  const mayType = isOpen(view);
  // What is being typed is not touched.
  const isTyping = mayType && input === document.activeElement && input.value;
  if (!isTyping) input.value = view.value;
  input.readOnly = !mayType;
  line.place.hidden = view.state === "none";
  input.hidden = view.state === "full" || view.state === "none";
  input.name = mayType ? `v-${name}` : "";
  key.name = mayType ? `k-${name}` : "";
  if (mayType) key.value = newKey();
  const isWrong = view.state === "refused" || view.state === "look";
  input.setAttribute("aria-invalid", String(isWrong));
  undo.hidden = view.state !== "saved" && view.state !== "waiting";
  undo.value = view.key ?? "";
  asItIs.hidden = view.state !== "look";
  state.dataset.state = view.state === "full" ? "" : view.state;
  state.textContent = view.words || (PLAIN.includes(view.state) ? told(view.state) : "");
}

/**
 * Show in the list of sheets which are still to be read.
 *
 * @param {Sheets} sheets
 * @param {string} open
 * @param {Line[]} lines
 */
export function drawList(sheets, open, lines) {
  let total = 0;
  for (const heat of all("[data-heat]")) {
    const links = all("[data-pair]", HTMLElement, heat);
    const isLeft = links.map(({ dataset: { pair = "" } }) => {
      return sheets.has(pair) && missingOf(sheets, pair, lines).length > 0;
    });
    links.forEach((link, k) => {
      if (link.parentElement) link.parentElement.hidden = !isLeft[k];
      if (link.dataset.pair === open) link.setAttribute("aria-current", "true");
      else link.removeAttribute("aria-current");
    });
    const n = isLeft.filter(Boolean).length;
    const left = told("n_left", { n, total: links.length });
    need("[data-left]", HTMLElement, heat).textContent = left;
    heat.hidden = !n;
    total += n;
  }
  need("[data-none]").hidden = total > 0;
}
