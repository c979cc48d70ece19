/* One sheet at a time, without a page load: an answer is an entry of the outbox as soon as it is
   left. Without this script the same forms are sent as a whole. */
import { find, need } from "../../shared/dom.js";
import { correctBy, outbox } from "../../shared/outbox_page.js";
import { told } from "../../shared/told.js";
import { hear, keepNew, renew, say } from "./desk.js";
import { drawList, drawSheet, linesOf } from "./sheet_lines.js";
import { draftOf, isOpen, keepReading, keepUndo, nameOf, pendingOf, Sheets } from "./sheets.js";

/** @typedef {import("../../shared/outbox.js").Entry} Entry */
/** @typedef {import("./desk.js").Act} Act */
/** @typedef {import("./sheet_lines.js").Line} Line */

/** What is saved sooner than this is not first called waiting. */
const MIN_WAITING_MS = 400;

/** @param {HTMLFormElement} form */
function begin(form) {
  const code = need("#code", HTMLInputElement);
  const takeBack = need("#take-back", HTMLFormElement);
  const lines = linesOf(form);
  const sheets = new Sheets();
  let open = "";

  function draw() {
    if (open) {
      drawSheet(sheets, open, lines);
      for (const one of [form, takeBack]) {
        need('[name="pair"]', HTMLInputElement, one).value = sheets.of(open).code;
      }
      form.hidden = false;
    }
    drawList(sheets, open, lines);
  }
  function takeOver() {
    sheets.takeOver();
    draw();
  }

  /** @param {Line} line */
  const titleOf = (line) => `${sheets.of(open).code}, ${line.label}`;
  /** @param {Line} line */
  const viewOf = (line) => sheets.view(open, line.item);

  /**
   * What waits for an answer comes before what is done.
   *
   * @param {string} state
   * @param {string} words
   * @param {Act[]} [acts]
   */
  function tell(state, words, acts) {
    const isTrouble = /** @param {Entry} entry */ (entry) =>
      entry.cell && (entry.state === "refused" || entry.state === "look");
    const first = outbox.mine().find(isTrouble);
    if (!first) {
      say(state, words, acts);
      return;
    }
    /** @type {Act} */
    const change = [told("change_it"), () => show(first.cell ?? "")];
    if (first.state === "look") {
      const asItIs = () => outbox.again(first, first.doubts);
      say("look", `${first.shown}. ${first.words}`, [[told("as_it_is"), asItIs], change]);
    } else {
      const { title, shown, words: why } = first;
      say("refused", told("refused", { title, shown, words: why }), [change]);
    }
  }

  /** @param {string} cell */
  function show(cell) {
    const [pair, item] = cell.split("-");
    if (!sheets.has(pair)) return;
    openSheet(pair);
    const line = lines.find((one) => one.item === item);
    line?.input.focus();
    line?.input.select();
  }
  /** @param {string} pair */
  function openSheet(pair) {
    leaveAll();
    if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
    open = pair;
    code.value = "";
    refuse("");
    const sheet = sheets.of(pair);
    history.replaceState(null, "", `?pair=${encodeURIComponent(sheet.code)}`);
    draw();
    const free = lines.find((line) => isOpen(viewOf(line)));
    tell("", told(free ? "type_answers" : "second_sheet", { code: sheet.code }));
    form.scrollIntoView({ block: need("#keypad").hidden ? "nearest" : "start" });
    (free ? free.input : code).focus({ preventScroll: true });
  }
  /** @param {string} words */
  function refuse(words) {
    const place = need("#code-told");
    place.textContent = words;
    place.dataset.state = words ? "refused" : "";
    code.setAttribute("aria-invalid", String(Boolean(words)));
    if (words) say("refused", words);
  }
  /** @param {string} typed */
  async function findSheet(typed) {
    if (!typed.trim()) {
      code.focus();
      return;
    }
    let words = told("unknown_code");
    // A pair that came late, or a code that means none: the server says which.
    if (!sheets.pairOf(typed)) {
      try {
        const address = `?pair=${encodeURIComponent(typed)}`;
        const page = await renew(address, "left-sheets", takeOver);
        words = page.getElementById("code-told")?.textContent ?? words;
      } catch {
        /* the link is down */
      }
    }
    if (sheets.pairOf(typed)) {
      openSheet(sheets.pairOf(typed));
      return;
    }
    refuse(words);
    code.focus();
    code.select();
  }

  /**
   * An answer that was left is on its way.  False where the browser keeps nothing.
   *
   * @param {Line} line
   */
  function leave(line) {
    const value = line.input.value.trim();
    if (!open || line.input.readOnly || !value) return true;
    const name = nameOf(open, line.item);
    return keepReading({ name, title: titleOf(line), url: form.action, value });
  }
  const leaveAll = () => lines.map(leave).every(Boolean);

  /** @param {Line} line */
  function undo(line) {
    const { key } = viewOf(line);
    if (!key) return true;
    const name = nameOf(open, line.item);
    if (!keepUndo({ name, title: titleOf(line), url: takeBack.action, key })) return false;
    line.input.value = "";
    draw();
    line.input.focus();
    return true;
  }

  /** @param {Entry} entry */
  function tellSaved(entry) {
    if (entry.fields.undo) {
      tell("saved", told("type_again", { title: entry.title }));
      return;
    }
    const [pair, item] = (entry.cell ?? "").split("-");
    const line = lines.find((one) => one.item === item);
    const again = () => {
      show(entry.cell ?? "");
      if (line) undo(line);
    };
    const value = entry.fields[`v-${entry.cell}`];
    tell("saved", told("is_saved", { title: entry.title, value }), [
      ...(line && sheets.has(pair) ? [/** @type {Act} */ ([told("undo"), again])] : []),
    ]);
  }
  /** @param {Entry} entry */
  function tellWaiting(entry) {
    if (!outbox.waiting().some((one) => one.key === entry.key)) return;
    tell("waiting", told("is_kept", { title: entry.title, shown: entry.shown }));
  }
  outbox.listen(({ entry, state }) => {
    if (!entry.cell) return;
    hear();
    if (state === "saved") sheets.hasSaved(entry);
    if (!entry.fields.undo && (state === "refused" || state === "look")) {
      // A reading that was not saved needs no taking back.
      for (const one of outbox.mine().filter((other) => other.fields.undo === entry.key)) {
        outbox.discard(one);
        outbox.discard(entry);
      }
    }
    draw();
    if (state === "saved") tellSaved(entry);
    else if (state === "waiting") setTimeout(() => tellWaiting(entry), MIN_WAITING_MS);
    else tell("", "");
  });
  correctBy((entry) => {
    if (entry.cell && sheets.has(entry.cell.split("-")[0])) show(entry.cell);
    else location.href = entry.page;
  });

  /**
   * @param {KeyboardEvent} event
   * @param {number} at
   */
  function pressed(event, at) {
    if (!["Enter", "ArrowDown", "ArrowUp"].includes(event.key)) return;
    event.preventDefault();
    const { input, item } = lines[at];
    if (event.key === "ArrowUp") {
      lines[at - 1]?.input.focus();
      return;
    }
    // A scanner types the code of the next sheet wherever the cursor is.
    const scanned = /[a-z]/i.test(input.value) ? sheets.pairOf(input.value) : "";
    if (scanned) {
      input.value = "";
      outbox.dropDraft(draftOf(nameOf(open, item)));
      openSheet(scanned);
      return;
    }
    leave(lines[at]);
    goOn(at);
  }
  /** @param {number} at */
  function goOn(at) {
    const rest = lines.slice(at + 1).find(({ input }) => !input.readOnly && !input.hidden);
    const asked = lines.find((line) => ["refused", "look"].includes(viewOf(line).state));
    (rest ?? asked)?.input.focus();
    if (!rest && asked) asked.input.select();
    if (!rest && !asked) code.focus();
  }
  lines.forEach((line, at) => {
    line.input.addEventListener("change", () => leave(line));
    line.input.addEventListener("input", () => {
      outbox.keepDraft(draftOf(nameOf(open, line.item)), line.input.value);
    });
    line.input.addEventListener("keydown", (event) => pressed(event, at));
  });

  need("#find", HTMLFormElement).addEventListener("submit", (event) => {
    event.preventDefault();
    findSheet(code.value);
  });
  document.addEventListener("click", (event) => {
    const link = event.target instanceof Element && event.target.closest("[data-pair]");
    const pair = link instanceof HTMLElement ? (link.dataset.pair ?? "") : "";
    if (!sheets.has(pair)) return;
    event.preventDefault();
    openSheet(pair);
  });
  takeBack.addEventListener("submit", (event) => {
    const line = lines.find((one) => one.undo === event.submitter);
    if (line && undo(line)) event.preventDefault();
  });
  form.addEventListener("submit", (event) => {
    const line = lines.find((one) => one.asItIs === event.submitter);
    const asked = line && pendingOf(nameOf(open, line.item));
    if (asked) {
      event.preventDefault();
      outbox.again(asked, asked.doubts);
      return;
    }
    // Where the browser keeps nothing, the form goes as a whole and says so itself.
    if (leaveAll()) event.preventDefault();
  });
  // A scanner, or a hand on the keys, while nothing has the focus.
  document.addEventListener("keydown", (event) => {
    const isSign = event.key.length === 1 && !event.ctrlKey && !event.metaKey && !event.altKey;
    if (event.target === document.body && isSign) code.focus();
  });

  need("[data-save]", HTMLElement, form).hidden = true;
  const asked = sheets.pairOf(new URLSearchParams(location.search).get("pair") ?? "");
  if (!form.hidden && asked) {
    for (const { input, item } of lines) {
      // Somebody may have typed before this script ran.
      const isTyped = input.value !== input.defaultValue;
      if (isTyped) outbox.keepDraft(draftOf(nameOf(asked, item)), input.value);
    }
    openSheet(asked);
  } else {
    draw();
    tell("", "");
    if (!code.value) code.focus();
  }
  keepNew("left-sheets", takeOver);
}

const form = find("#one-sheet", HTMLFormElement);
if (form) begin(form);
