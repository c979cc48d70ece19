/* The grid without the page load: a cell is an entry of the outbox as soon as it is left.
   Without this script the same form is sent as a whole. */
"use strict";
(() => {
  const form = document.getElementById("grid");
  if (!form) return;
  const box = nearmarkOutbox;
  const cells = [...form.querySelectorAll("[data-cell]")];
  const byName = new Map(cells.map((input) => [input.dataset.cell, input]));
  const asked = (name) => "entry-" + name;

  function say(name, state, words) {
    const place = document.getElementById("s-" + name);
    if (!place) return;
    place.textContent = words;
    place.dataset.state = state;
    const input = byName.get(name);
    input.readOnly = state === "waiting" || state === "saved" || state === "look";
    input.setAttribute("aria-invalid", state === "refused" ? "true" : "false");
    input.setAttribute("aria-describedby", place.id);
  }

  box.listen(({ entry, state, words }) => {
    const input = byName.get(entry.name);
    if (!input) return;
    if (state === "discarded") { input.value = ""; say(entry.name, "", ""); return; }
    input.value = entry.fields["v-" + entry.name];
    if (state === "saved" && words) say(entry.name, "look", "saved. " + words);
    else say(entry.name, state, state === "refused" ? "refused: " + words : state);
  });
  box.mendBy((entry) => {
    const input = byName.get(entry.name);
    if (input) { input.focus(); input.select(); } else location.href = entry.page;
  });

  function leave(input) {
    const name = input.dataset.cell, value = input.value.trim();
    if (input.readOnly) return true;
    const before = box.mine().find((entry) => entry.name === name);
    if (!value || (before && before.fields["v-" + name] === value)) return true;
    const key = box.newKey();
    const title = input.getAttribute("aria-label");
    const kept = box.add({ key, name, url: form.action, title, shown: value, fields: { ["v-" + name]: value, ["k-" + name]: key } });
    if (!kept) return false;
    // What was refused is mended by what stands there now.
    if (before) { box.discard(before); input.value = value; say(name, "waiting", "waiting"); }
    box.draft.drop(asked(name));
    return true;
  }

  cells.forEach((input) => {
    const name = input.dataset.cell;
    input.addEventListener("change", () => leave(input));
    input.addEventListener("input", () => box.draft.keep(asked(name), input.value));
    const typed = box.draft.read(asked(name));
    if (typed && !input.value) { input.value = typed; say(name, "draft", "typed, not sent yet"); }
  });
  box.mine().forEach((entry) => {
    const input = byName.get(entry.name);
    if (!input) return;
    input.value = entry.fields["v-" + entry.name];
    say(entry.name, entry.state, entry.state === "refused" ? "refused: " + entry.words : entry.state);
  });

  form.addEventListener("keydown", (event) => {
    if (!byName.has(event.target.dataset.cell) || !["Enter", "ArrowDown", "ArrowUp"].includes(event.key)) return;
    event.preventDefault();
    const column = event.target.dataset.cell.split("-")[1];
    const same = cells.filter((cell) => cell.dataset.cell.split("-")[1] === column);
    const next = same[same.indexOf(event.target) + (event.key === "ArrowUp" ? -1 : 1)];
    leave(event.target);
    if (next) next.focus(); else event.target.blur();
  });
  form.addEventListener("submit", (event) => {
    // Where the browser keeps nothing, the form goes as a whole and says so itself.
    if (cells.map(leave).every(Boolean)) event.preventDefault();
  });
})();
