/* Own keys on a tablet: big, always there, and no on-screen keyboard over half of the page.
   Without this script the fields are plain inputs. Keys of a real keyboard work all the time. */
"use strict";
(() => {
  const keypad = document.getElementById("keypad");
  if (!keypad) return;
  const fields = [...document.querySelectorAll("[data-desk] input[type=text]")];
  const button = document.getElementById("keypad-switch");
  const at = keypad.querySelector("[data-keypad-at]");
  const PLACE = "nearmark-keypad";
  let field = null;

  const isFree = (input) => !input.readOnly && !input.hidden && !input.closest("[hidden]");
  const isEmpty = (input) => isFree(input) && !input.value;
  function show(isOn) {
    keypad.hidden = !isOn;
    document.body.classList.toggle("with-keypad", isOn);
    button.setAttribute("aria-pressed", String(isOn));
    // "none": the field keeps its caret, the system's keyboard stays away.
    fields.forEach((input) => {
      if (!input.dataset.mode) input.dataset.mode = input.getAttribute("inputmode") || "text";
      input.setAttribute("inputmode", isOn ? "none" : input.dataset.mode);
    });
    if (isOn && !field)
      take(fields.includes(document.activeElement) ? document.activeElement : fields.find(isEmpty));
  }
  function take(input) {
    if (!input) return;
    if (document.activeElement !== input) input.focus({ preventScroll: true });
    follow(input);
  }
  function follow(input) {
    field = input;
    at.textContent = input.labels.length ? input.labels[0].textContent : "";
    // The answer in hand is above the keypad, not behind it.
    if (!keypad.hidden)
      (input.closest(".line, .field, form") || input).scrollIntoView({ block: "nearest" });
  }
  const changed = () => field.dispatchEvent(new Event("input", { bubbles: true }));

  function press(key) {
    if (!field || !isFree(field)) take(fields.find(isEmpty) || field);
    if (!field) return;
    if (key === "next") {
      next();
      return;
    }
    if (!isFree(field)) return;
    if (key === "back") field.value = field.value.slice(0, -1);
    else if (key === "b" || key === "?") {
      field.value = key;
      changed();
      next();
      return;
    } else field.value = ["b", "?"].includes(field.value) ? key : field.value + key;
    changed();
  }
  /* Like the Enter key: the page's own script says where that leads; else on to the next field of the form, at last its button. */
  function next() {
    const here = field;
    if (
      !here.dispatchEvent(
        new KeyboardEvent("keydown", { key: "Enter", bubbles: true, cancelable: true }),
      )
    )
      return;
    const rest = fields
      .slice(fields.indexOf(here) + 1)
      .find((input) => input.form === here.form && isEmpty(input));
    if (rest) take(rest);
    else here.form.requestSubmit();
  }

  fields.forEach((input) => input.addEventListener("focus", () => follow(input)));
  // The finger must not take the focus away from the field.
  keypad.addEventListener("pointerdown", (event) => event.preventDefault());
  keypad.addEventListener("click", (event) => {
    const key = event.target.closest("[data-key]");
    if (key) press(key.dataset.key);
  });
  button.hidden = false;
  button.addEventListener("click", () => {
    const isOn = keypad.hidden;
    try {
      localStorage.setItem(PLACE, isOn ? "on" : "off");
    } catch {
      /* asked again next time */
    }
    show(isOn);
  });
  let chosen = "";
  try {
    chosen = localStorage.getItem(PLACE) || "";
  } catch {
    /* no store, no choice */
  }
  show(chosen === "on" || (chosen !== "off" && matchMedia("(pointer: coarse)").matches));
})();
