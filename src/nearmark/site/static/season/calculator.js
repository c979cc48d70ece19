/* The keys of the calculator, by touch and by keyboard; its arithmetic: calculator_engine.js. */
import { all, need } from "../shared/dom.js";
import { PocketCalculator } from "./calculator_engine.js";

/** @type {Record<string, string>} */
const SIGNS = { "/": "\u00F7", x: "\u00D7", "-": "\u2212", "+": "+" };
/** @type {Record<string, string>} */
const BY_KEYBOARD = {
  "*": "x",
  X: "x",
  ",": ".",
  Enter: "=",
  Escape: "C",
  Delete: "CE",
  Backspace: "CE",
};

/** @param {HTMLElement} root */
function begin(root) {
  const machine = new PocketCalculator();
  const display = need('[data-part="display"]', HTMLElement, root);
  const signs = need('[data-part="signs"]', HTMLElement, root);
  const buttons = all("[data-key]", HTMLElement, root);

  function show() {
    display.textContent = machine.display.replace("-", "\u2212");
    const shown = [machine.remembers ? "M" : "", SIGNS[machine.waiting] ?? ""];
    signs.textContent = shown.filter(Boolean).join(" ");
  }
  /** @param {string} key */
  function press(key) {
    machine.press(key);
    show();
  }

  // Enter is "=" where somebody types; on a key that was reached by Tab it presses that key.
  let isTyping = false;
  root.addEventListener("focusin", () => {
    isTyping = false;
  });
  root.addEventListener("click", (event) => {
    const button = buttons.find(
      (one) => event.target instanceof Node && one.contains(event.target),
    );
    if (button) press(button.dataset.key ?? "");
  });
  root.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const key = BY_KEYBOARD[event.key] ?? event.key;
    const button = buttons.find((one) => one.dataset.key === key);
    if (!button) return;
    if (event.key === "Enter" && !isTyping && event.target !== display) return;
    isTyping = true;
    event.preventDefault();
    button.classList.add("is-down");
    press(key);
  });
  root.addEventListener("keyup", () => {
    for (const button of buttons) button.classList.remove("is-down");
  });
  show();
}

all("[data-calculator]").forEach(begin);
