/* A round that is typed and not saved: kept in this browser until the server has shown that it is saved.
   Every round has a place of its own, by person, club and thing; nobody else's is read here, and where
   somebody new comes in (sign in, join) all of them go. The keys of the rows are kept with them, so that
   a round sent once more counts nothing twice. */
"use strict";
(() => {
  const BOX = "nearmark-round:",
    LONGEST_MS = 48 * 3600 * 1000;
  const names = () => {
    try {
      return Object.keys(localStorage).filter((name) => name.startsWith(BOX));
    } catch {
      return [];
    }
  };
  function read(name) {
    try {
      return JSON.parse(localStorage.getItem(name));
    } catch {
      return null;
    }
  }
  function drop(name) {
    try {
      localStorage.removeItem(name);
    } catch {
      /* it was never there */
    }
  }
  function keep(name, round) {
    try {
      localStorage.setItem(name, JSON.stringify(round));
      return true;
    } catch {
      return false;
    }
  }
  const clock = (at) =>
    [new Date(at).getHours(), new Date(at).getMinutes()]
      .map((n) => String(n).padStart(2, "0"))
      .join(":");

  names().forEach((name) => {
    const round = read(name);
    if (!round || Date.now() - round.at > LONGEST_MS) drop(name);
  });
  const here = document.querySelector("[data-rounds-of]");
  if (!here) {
    names().forEach(drop);
    return;
  }
  const own = `${BOX}${here.dataset.roundsOf}:`;
  // Whoever typed these has left: the session is another person's.
  names()
    .filter((name) => !name.startsWith(own))
    .forEach(drop);
  document
    .querySelector("form[action$='/sign-out/']")
    ?.addEventListener("submit", () => names().forEach(drop));

  const saved = (here.dataset.saved || "").split(" ").filter(Boolean);
  if (saved.length)
    names().forEach((name) => {
      const fields = (read(name) || {}).fields || {};
      if (
        Object.entries(fields).some(
          ([field, value]) => field.startsWith("key-") && saved.includes(value),
        )
      )
        drop(name);
    });

  const form = document.getElementById("round");
  const place = form ? `${own}${here.dataset.club}:${form.elements.thing.value}` : "";
  function others() {
    const list = document.getElementById("rounds-kept");
    if (!list) return;
    const found = names()
      .filter((name) => name !== place && name.startsWith(`${own}${here.dataset.club}:`))
      .map(read)
      .filter(Boolean);
    list.hidden = !found.length;
    list.querySelector("ul").replaceChildren(
      ...found.map((round) => {
        const item = document.createElement("li"),
          link = document.createElement("a");
        link.textContent = round.title;
        link.href = round.url;
        link.className = "target";
        item.append(link, ` typed at ${clock(round.at)}`);
        return item;
      }),
    );
  }
  others();
  if (!form) return;

  const told = document.getElementById("round-back");
  const fields = () =>
    [...form.elements].filter((field) =>
      /^(estimate|key|layer|layers|(length|width|height)_cm)-\d+$|^day$/.test(field.name),
    );
  const isTyped = (field) => !/^(key-|day$)/.test(field.name) && field.value.trim() !== "";
  function keepTyped() {
    if (!fields().some(isTyped)) {
      drop(place);
      return;
    }
    keep(place, {
      at: Date.now(),
      title: here.dataset.title,
      url: here.dataset.address,
      fields: Object.fromEntries(fields().map((field) => [field.name, field.value])),
    });
  }
  function bringBack(round) {
    fields().forEach((field) => {
      if (!(field.name in round.fields)) return;
      field.value = round.fields[field.name];
      const parts = field.closest("details");
      if (parts && isTyped(field)) parts.open = true;
    });
    const other = form.elements.day;
    if (other.value !== other.defaultValue) other.closest("details").open = true;
    told.querySelector("p").textContent =
      `Typed at ${clock(round.at)} and not saved yet: it is back. Save it, or throw it away.`;
    told.hidden = false;
  }
  /* A round is saved whole or not at all: one key tells.  Where the server cannot be asked it comes
     back, and its keys keep it from counting twice. */
  async function wasSaved(round) {
    const row = Object.keys(round.fields).find(
      (name) => name.startsWith("estimate-") && round.fields[name].trim(),
    );
    if (!row) return false;
    const key = round.fields[row.replace("estimate", "key")];
    try {
      const answer = await fetch(`${here.dataset.asks}?key=${encodeURIComponent(key)}`, {
        headers: { Accept: "application/json" },
        cache: "no-store",
      });
      return answer.ok && (await answer.json()).saved;
    } catch {
      return false;
    }
  }
  async function look(round) {
    if (await wasSaved(round)) drop(place);
    else if (!fields().some(isTyped)) bringBack(round);
  }
  const before = read(place);
  // After a refusal the server has sent back what was typed last.
  if (here.dataset.typed === "yes") keepTyped();
  else if (before) look(before);
  told.querySelector("button").addEventListener("click", () => {
    drop(place);
    location.replace(here.dataset.address);
  });
  form.addEventListener("input", keepTyped);
})();
