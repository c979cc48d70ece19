/* Own keys on a tablet: big, always there, and no on-screen keyboard over half of the page.
   Without this script the fields are plain inputs. Keys of a real keyboard work all the time. */
import { all, find, need } from "../../shared/dom.js";

const PLACE = "nearmark-keypad";
/** Keys whose sign is a whole answer: nothing is written, nobody can read it. */
const WHOLE = ["b", "?"];

/** @param {HTMLInputElement} input */
const isFree = (input) => !input.readOnly && !input.hidden && !input.closest("[hidden]");

/** @param {HTMLInputElement} input */
const isEmpty = (input) => isFree(input) && !input.value;

function chosen() {
  try {
    return localStorage.getItem(PLACE) || "";
  } catch {
    return ""; // no store, no choice
  }
}

/** @param {boolean} isOn */
function choose(isOn) {
  try {
    localStorage.setItem(PLACE, isOn ? "on" : "off");
  } catch {
    /* asked again next time */
  }
}

/** @param {HTMLElement} keypad */
function begin(keypad) {
  const fields = all("[data-desk] input[type=text]", HTMLInputElement);
  const button = need("#keypad-switch");
  const at = need("[data-keypad-at]", HTMLElement, keypad);
  /** @type {HTMLInputElement | undefined} */
  let field;

  /** @param {boolean} isOn */
  function show(isOn) {
    keypad.hidden = !isOn;
    document.body.classList.toggle("with-keypad", isOn);
    button.setAttribute("aria-pressed", String(isOn));
    // "none": the field keeps its caret, the system's keyboard stays away.
    for (const input of fields) {
      input.dataset.mode ||= input.getAttribute("inputmode") || "text";
      input.setAttribute("inputmode", isOn ? "none" : input.dataset.mode);
    }
    const focused = fields.find((input) => input === document.activeElement);
    if (isOn && !field) take(focused ?? fields.find(isEmpty));
  }
  /** @param {HTMLInputElement | undefined} input */
  function take(input) {
    if (!input) return;
    if (document.activeElement !== input) input.focus({ preventScroll: true });
    follow(input);
  }
  /** @param {HTMLInputElement} input */
  function follow(input) {
    field = input;
    at.textContent = input.labels?.[0]?.textContent ?? "";
    // The answer in hand is above the keypad, not behind it.
    const whole = input.closest(".line, .field, form") ?? input;
    if (!keypad.hidden) whole.scrollIntoView({ block: "nearest" });
  }

  /** @param {string} key */
  function press(key) {
    if (!field || !isFree(field)) take(fields.find(isEmpty) ?? field);
    if (!field) return;
    if (key === "next") {
      next(field);
      return;
    }
    if (!isFree(field)) return;
    if (key === "back") field.value = field.value.slice(0, -1);
    else if (WHOLE.includes(key) || WHOLE.includes(field.value)) field.value = key;
    else field.value += key;
    field.dispatchEvent(new Event("input", { bubbles: true }));
    if (WHOLE.includes(key)) next(field);
  }
  /**
   * Like the Enter key: the page's own script says where that leads; else on to the next field of
   * the form, at last its button.
   *
   * @param {HTMLInputElement} here
   */
  function next(here) {
    const enter = new KeyboardEvent("keydown", { key: "Enter", bubbles: true, cancelable: true });
    if (!here.dispatchEvent(enter)) return;
    const rest = fields.slice(fields.indexOf(here) + 1);
    const free = rest.find((input) => input.form === here.form && isEmpty(input));
    if (free) take(free);
    else here.form?.requestSubmit();
  }

  for (const input of fields) input.addEventListener("focus", () => follow(input));
  // The finger must not take the focus away from the field.
  keypad.addEventListener("pointerdown", (event) => event.preventDefault());
  keypad.addEventListener("click", (event) => {
    const key = event.target instanceof Element && event.target.closest("[data-key]");
    if (key instanceof HTMLElement) press(key.dataset.key ?? "");
  });
  button.hidden = false;
  button.addEventListener("click", () => {
    const isOn = keypad.hidden;
    choose(isOn);
    show(isOn);
  });
  const isTouched = matchMedia("(pointer: coarse)").matches;
  show(chosen() === "on" || (chosen() !== "off" && isTouched));
}

const keypad = find("#keypad");
if (keypad) begin(keypad);
