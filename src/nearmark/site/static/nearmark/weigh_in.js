/* The desk with the scale, with or without a link: a cup is kept and the form is free for the next.
   Without this script the same form is sent and the page comes back. */
"use strict";
(() => {
  const form = document.getElementById("cup");
  if (!form) return;
  const box = nearmarkOutbox;
  const names = ["pair", "cup", "gross_g"];
  const fields = names.map((name) => form.elements[name]);
  const said = document.getElementById("told");
  let mending = null;

  fields.forEach((field) => {
    field.addEventListener("input", () => box.draft.keep("weigh-in-" + field.name, field.value));
    if (!field.value) field.value = box.draft.read("weigh-in-" + field.name);
  });
  function empty() {
    fields.forEach((field) => { field.value = ""; box.draft.drop("weigh-in-" + field.name); });
    fields[0].focus();
  }

  box.listen(({ entry, state, words }) => {
    if (entry.name !== "cup") return;
    said.dataset.state = state;
    said.textContent = `${entry.title}: ${state}${words ? ". " + words : ""}`;
  });
  box.mendBy((entry) => {
    if (entry.name !== "cup") { location.href = entry.page; return; }
    names.forEach((name) => { form.elements[name].value = entry.fields[name]; });
    mending = entry;
    fields[0].focus();
  });
  form.addEventListener("submit", (event) => {
    const key = box.newKey();
    const given = Object.fromEntries(names.map((name) => [name, form.elements[name].value.trim()]));
    const item = form.elements.item ? { item: form.elements.item.value } : {};
    const kept = box.add({
      key, name: "cup", url: form.action, title: `${given.pair}, cup ${given.cup}`, shown: `${given.gross_g} g`,
      fields: { ...given, ...item, key },
    });
    if (!kept) return;
    event.preventDefault();
    if (mending) box.discard(mending);
    mending = null;
    empty();
  });
})();
