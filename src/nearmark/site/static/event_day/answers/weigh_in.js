/* The desk with the scale, with or without a link: a cup is kept and the form is free for the next.
   Without this script the same form is sent and the page comes back. */
"use strict";
(() => {
  const form = document.getElementById("cup");
  if (!form) return;
  const box = nearmarkOutbox,
    desk = nearmarkDesk;
  const SCALE = "nearmark-scale";
  const known = JSON.parse(document.getElementById("pairs").textContent);
  const names = ["pair", "cup", "gross_g"];
  const fields = names.map((name) => form.elements[name]);
  const pair = form.elements.pair,
    scale = form.elements.scale;
  const who = Object.assign(document.createElement("p"), { className: "help", id: "who" });
  let mending = null;
  pair.closest(".field").append(who);
  pair.setAttribute("aria-describedby", "who");

  if (scale) {
    try {
      scale.value = scale.value || localStorage.getItem(SCALE) || "";
    } catch {
      /* chosen by hand */
    }
    if (scale.selectedIndex < 0) scale.selectedIndex = 0;
    scale.addEventListener("change", () => {
      try {
        localStorage.setItem(SCALE, scale.value);
      } catch {
        /* asked again next time */
      }
    });
  }
  function sayWho() {
    const typed = pair.value.trim(),
      found = desk.meant(known.codes, typed);
    who.textContent = found ? known.pairs[found] : typed ? "No pair has this code." : "";
  }
  fields.forEach((field) => {
    field.addEventListener("input", () => box.draft.keep("weigh-in-" + field.name, field.value));
    if (!field.value) field.value = box.draft.read("weigh-in-" + field.name);
  });
  fields.forEach((field) =>
    field.addEventListener("keydown", (event) => {
      const next = fields.slice(fields.indexOf(field) + 1).find((one) => !one.value);
      if (event.key !== "Enter" || !next) return;
      event.preventDefault();
      next.focus();
    }),
  );
  pair.addEventListener("input", sayWho);
  sayWho();
  function empty() {
    fields.forEach((field) => {
      field.value = "";
      box.draft.drop("weigh-in-" + field.name);
    });
    sayWho();
    fields[0].focus();
  }
  function change(entry) {
    names.forEach((name) => {
      form.elements[name].value = entry.fields[name];
    });
    if (scale && entry.fields.scale) scale.value = entry.fields.scale;
    sayWho();
    mending = entry;
    fields[0].focus();
    fields[0].select();
  }
  /* Behind the reading itself, if that has not arrived yet: the server takes them in turn. */
  const takeBack = (key, title) =>
    box.add({
      key: box.newKey(),
      name: key,
      isCup: true,
      url: form.action,
      title,
      shown: "taken back",
      fields: { undo: key },
    });

  /* What waits for an answer comes before what is done. */
  const isOurs = (entry) => entry.name === "cup" || entry.isCup;
  function tell(state, words, acts) {
    const first = box
      .mine()
      .find((entry) => isOurs(entry) && ["refused", "look"].includes(entry.state));
    if (!first) {
      desk.told(state, words, acts);
      return;
    }
    const back = (first.back || []).map(([key, title]) => [
      "Take back " + title,
      () => takeBack(key, title),
    ]);
    const change_ = ["Change it", () => change(first)];
    if (first.state === "look")
      desk.told("look", first.words, [
        ["Save it as it is", () => settle(first, first.doubts)],
        change_,
        ...back,
      ]);
    else
      desk.told("refused", `${first.title}, ${first.shown}. Refused: ${first.words}`, [
        change_,
        ...(back.length ? [...back, ["Send it again", () => settle(first, [])]] : []),
      ]);
  }
  function settle(entry, doubts) {
    if (mending && mending.key === entry.key) {
      mending = null;
      empty();
    }
    box.again(entry, doubts);
  }
  const renew = () =>
    desk.renew(location.pathname, "so-far").catch(() => {
      /* the link is down: what is here stays */
    });

  box.listen(({ entry, state, words }) => {
    if (!isOurs(entry)) return;
    desk.hear();
    if (state === "saved") {
      tell(
        "saved",
        entry.isCup ? `${entry.title}: taken back` : words,
        entry.isCup ? [] : [["Undo", () => takeBack(entry.key, entry.title)]],
      );
      renew();
    } else if (state === "waiting") {
      setTimeout(() => {
        if (box.mine().some((one) => one.key === entry.key && one.state === "waiting"))
          tell(
            "waiting",
            `${entry.title}: ${entry.shown}, kept on this device until the server answers`,
          );
      }, 400);
    } else {
      tell("", "");
      // The cup is still on the scale: what was typed comes back, unless the next one is being typed.
      if (!entry.isCup && state !== "discarded" && fields.every((field) => !field.value))
        change(entry);
    }
  });
  box.mendBy((entry) => {
    if (entry.name === "cup") change(entry);
    else location.href = entry.page;
  });
  document.getElementById("take-back").addEventListener("submit", (event) => {
    const button = event.submitter;
    if (takeBack(button.value, button.dataset.title || "")) event.preventDefault();
  });
  form.addEventListener("submit", (event) => {
    const key = box.newKey();
    const given = Object.fromEntries(names.map((name) => [name, form.elements[name].value.trim()]));
    const more = Object.fromEntries(
      ["item", "scale"]
        .filter((name) => form.elements[name])
        .map((name) => [name, form.elements[name].value]),
    );
    const kept = box.add({
      key,
      name: "cup",
      url: form.action,
      title: `${given.pair}, cup ${given.cup}`,
      shown: `${given.gross_g} g`,
      fields: { ...given, ...more, key },
    });
    if (!kept) return;
    event.preventDefault();
    if (mending) box.discard(mending);
    mending = null;
    empty();
  });
  tell("", "");
  (fields.find((field) => !field.value) || fields[0]).focus();
  desk.keepNew("so-far");
})();
