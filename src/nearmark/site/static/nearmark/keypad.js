/* Own keys on a tablet: big, always there, and no on-screen keyboard over half of the page.
   Without this script the fields are plain inputs. Keys of a real keyboard work all the time. */
"use strict";
(() => {
  const dock = document.getElementById("keypad");
  if (!dock) return;
  const form = dock.closest("form");
  const fields = [...form.querySelectorAll("input[type=text], input:not([type])")];
  const button = document.getElementById("keypad-switch");
  const at = dock.querySelector("[data-keypad-at]");
  const PLACE = "nearmark-keypad";
  let field = null;

  function labelled(input) {
    return input.getAttribute("aria-label") || (input.labels && input.labels[0] ? input.labels[0].textContent : "");
  }
  function show(isOn) {
    dock.hidden = !isOn;
    document.body.classList.toggle("with-keypad", isOn);
    button.setAttribute("aria-pressed", String(isOn));
    // "none": the field keeps its caret, the system's keyboard stays away.
    fields.forEach((input) => {
      if (!input.dataset.mode) input.dataset.mode = input.getAttribute("inputmode") || "text";
      input.setAttribute("inputmode", isOn ? "none" : input.dataset.mode);
    });
    if (isOn && !field) take(fields.find((input) => !input.readOnly && !input.value) || null);
  }
  function take(input) {
    if (!input) return;
    field = input;
    if (document.activeElement !== input) input.focus({ preventScroll: true });
    (input.closest(".field") || input).scrollIntoView({ block: "nearest" });
    at.textContent = labelled(input);
  }
  function changed() { field.dispatchEvent(new Event("input", { bubbles: true })); }

  function press(key) {
    if (!field || field.readOnly) take(fields.find((input) => !input.readOnly && !input.value) || field);
    if (!field) return;
    if (key === "next") { next(); return; }
    if (field.readOnly) return;
    if (key === "back") field.value = field.value.slice(0, -1);
    else if (key === "b" || key === "?") { field.value = key; changed(); next(); return; }
    else field.value = ["b", "?"].includes(field.value) ? key : field.value + key;
    changed();
  }
  /* Like the Enter key: the page's own script says where that leads; else on to the next field, at last the button. */
  function next() {
    const here = field;
    const event = new KeyboardEvent("keydown", { key: "Enter", bubbles: true, cancelable: true });
    const wentOn = !here.dispatchEvent(event);
    if (wentOn && document.activeElement !== here && fields.includes(document.activeElement)) { take(document.activeElement); return; }
    const rest = fields.slice(fields.indexOf(here) + 1).find((input) => !input.readOnly && !input.value);
    if (rest) take(rest);
    else if (!wentOn) { form.requestSubmit(); take(fields[0]); }
    else take(fields.find((input) => !input.readOnly && !input.value) || null);
  }

  fields.forEach((input) => input.addEventListener("focus", () => { field = input; at.textContent = labelled(input); }));
  // The finger must not take the focus away from the field.
  dock.addEventListener("pointerdown", (event) => event.preventDefault());
  dock.addEventListener("click", (event) => {
    const key = event.target.closest("[data-key]");
    if (key) press(key.dataset.key);
  });
  button.hidden = false;
  button.addEventListener("click", () => {
    const isOn = dock.hidden;
    try { localStorage.setItem(PLACE, isOn ? "on" : "off"); } catch { /* asked again next time */ }
    show(isOn);
  });
  let chosen = "";
  try { chosen = localStorage.getItem(PLACE) || ""; } catch { /* no store, no choice */ }
  show(chosen === "on" || (chosen !== "off" && matchMedia("(pointer: coarse)").matches));
})();
