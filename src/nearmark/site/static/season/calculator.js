/* The keys of the calculator, by touch and by keyboard; the arithmetic is in calculator_engine.js. */
"use strict";
(() => {
  const SIGNS = { "/": "\u00F7", x: "\u00D7", "-": "\u2212", "+": "+" };
  const BY_KEYBOARD = {
    "*": "x",
    X: "x",
    ",": ".",
    Enter: "=",
    Escape: "C",
    Delete: "CE",
    Backspace: "CE",
  };

  for (const root of document.querySelectorAll("[data-calculator]")) {
    const machine = window.pocketCalculator();
    const display = root.querySelector('[data-part="display"]');
    const signs = root.querySelector('[data-part="signs"]');
    const keys = new Map([...root.querySelectorAll("[data-key]")].map((b) => [b.dataset.key, b]));

    function show() {
      display.textContent = machine.display.replace("-", "\u2212");
      signs.textContent = [machine.remembers ? "M" : "", SIGNS[machine.waiting] || ""]
        .filter(Boolean)
        .join(" ");
    }
    function press(key) {
      machine.press(key);
      show();
    }

    // Enter is "=" where somebody types; on a key that was reached by Tab it presses that key.
    let types = false;
    root.addEventListener("focusin", () => {
      types = false;
    });
    root.addEventListener("click", (event) => {
      const button = event.target.closest("[data-key]");
      if (button) press(button.dataset.key);
    });
    root.addEventListener("keydown", (event) => {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      const key = BY_KEYBOARD[event.key] || event.key;
      if (!keys.has(key)) return;
      if (event.key === "Enter" && !types && event.target !== display) return;
      types = true;
      event.preventDefault();
      keys.get(key).classList.add("is-down");
      press(key);
    });
    root.addEventListener("keyup", () =>
      keys.forEach((button) => button.classList.remove("is-down")),
    );
    show();
  }
})();
