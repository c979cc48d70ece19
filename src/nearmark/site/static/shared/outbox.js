/* What was typed, until the server says that it is on its disk.
   Every entry has a place of its own in localStorage, so that two tabs never write over each other,
   and a key made before it is first sent: however often it arrives, the server counts it once.
   Plain http in a hall has no service worker, no crypto.randomUUID and no navigator.locks. */
"use strict";
const nearmarkOutbox = (() => {
  const BOX = "nearmark-outbox:",
    DRAFT = "nearmark-draft:";
  const FIRST_WAIT_MS = 1000,
    LONGEST_WAIT_MS = 30000,
    PATIENCE_MS = 15000;

  const page = document.getElementById("outbox");
  const reader = page ? page.dataset.reader : "";
  const listeners = [];
  let token = page ? page.dataset.token : "";
  let wait = FIRST_WAIT_MS,
    timer = 0,
    busy = false,
    held = "";

  function newKey() {
    const b = crypto.getRandomValues(new Uint8Array(16));
    b[6] = (b[6] & 15) | 64;
    b[8] = (b[8] & 63) | 128;
    const hex = [...b].map((n) => n.toString(16).padStart(2, "0")).join("");
    return [
      hex.slice(0, 8),
      hex.slice(8, 12),
      hex.slice(12, 16),
      hex.slice(16, 20),
      hex.slice(20),
    ].join("-");
  }

  /* The store. An entry: {key, reader, who, url, page, name, fields, title, shown, at, state, words, doubts, back}. */
  function parsed(text) {
    try {
      return JSON.parse(text);
    } catch {
      return null;
    }
  }
  function stored(prefix) {
    try {
      return Object.keys(localStorage)
        .filter((k) => k.startsWith(prefix))
        .map((k) => parsed(localStorage.getItem(k)))
        .filter(Boolean);
    } catch {
      return [];
    }
  }
  const entries = () => stored(BOX).sort((a, b) => a.at - b.at);
  const mine = () => entries().filter((e) => e.reader === reader);
  const place = (entry) => BOX + entry.reader + ":" + entry.key;
  function keep(entry) {
    try {
      localStorage.setItem(place(entry), JSON.stringify(entry));
      return true;
    } catch {
      return false;
    }
  }
  function change(entry, changes) {
    // Another tab may have had its answer meanwhile: what is gone stays gone.
    if (localStorage.getItem(place(entry)) !== null) keep(Object.assign(entry, changes));
  }
  function drop(entry) {
    try {
      localStorage.removeItem(place(entry));
    } catch {
      /* it was never there */
    }
  }

  /* Sending: one at a time, in the order of typing; after a failure later and later, at most half a minute. */
  async function post(entry) {
    const stop = new AbortController();
    const alarm = setTimeout(() => stop.abort(), PATIENCE_MS);
    try {
      const body = new URLSearchParams({
        ...entry.fields,
        reader: entry.reader,
        csrfmiddlewaretoken: token,
      });
      (entry.answered || []).forEach((doubt) => body.append("doubt", doubt));
      const answer = await fetch(entry.url, {
        method: "POST",
        body,
        headers: { Accept: "application/json" },
        redirect: "error",
        signal: stop.signal,
      });
      return [answer.status, await answer.json().catch(() => ({}))];
    } finally {
      clearTimeout(alarm);
    }
  }
  async function freshToken() {
    const answer = await fetch(location.href, { headers: { Accept: "text/html" } });
    const found = new DOMParser()
      .parseFromString(await answer.text(), "text/html")
      .getElementById("outbox");
    if (!found || found.dataset.reader !== reader) return false;
    token = found.dataset.token;
    return true;
  }
  /* True when the server has spoken about this entry. */
  async function send(entry) {
    let [status, told] = await post(entry);
    if (told.held === "stale" && (await freshToken())) [status, told] = await post(entry);
    held = told.held || told.what ? [told.what, told.mend].filter(Boolean).join(". ") + "." : "";
    if (status !== 200 && status !== 422) return false;
    if (told.saved && told.saved.includes(entry.name)) {
      drop(entry);
      tell({ entry, state: "saved", words: (told.words || {})[entry.name] || "" });
      return true;
    }
    const asked = (told.asked || {})[entry.name];
    const words = asked ? asked.words : (told.refused || {})[entry.name];
    if (!words) return false;
    const state = asked ? "look" : "refused";
    change(entry, {
      state,
      words,
      doubts: asked ? asked.ids : [],
      back: (told.back || {})[entry.name] || [],
    });
    tell({ entry, state, words });
    return true;
  }
  async function sendAll() {
    if (busy || !page || !reader) return;
    busy = true;
    clearTimeout(timer);
    let arrived = true;
    for (const entry of mine().filter((e) => e.state === "waiting")) {
      try {
        arrived = await send(entry);
      } catch {
        arrived = false;
        held = "";
      }
      if (!arrived) break;
    }
    busy = false;
    wait = arrived ? FIRST_WAIT_MS : Math.min(2 * wait, LONGEST_WAIT_MS);
    if (mine().some((e) => e.state === "waiting")) timer = setTimeout(sendAll, arrived ? 0 : wait);
    show();
  }
  function now() {
    wait = FIRST_WAIT_MS;
    sendAll();
  }

  /* Whether it is kept; if not, the page must send its form as without script. */
  function add(entry) {
    const whole = {
      ...entry,
      page: location.pathname + location.search,
      reader,
      who: page.dataset.name,
      at: Date.now(),
      state: "waiting",
      words: "",
    };
    if (!keep(whole)) return false;
    tell({ entry: whole, state: "waiting", words: "" });
    show();
    now();
    return true;
  }
  /* As it is: refused before, or with its doubts answered. */
  function again(entry, answered = []) {
    change(entry, { state: "waiting", words: "", answered });
    tell({ entry, state: "waiting", words: "" });
    show();
    now();
  }
  function discard(entry) {
    change(entry, { state: "discarded" });
    drop(entry);
    tell({ entry, state: "discarded", words: "" });
    show();
  }
  const tell = (news) => listeners.forEach((listen) => listen(news));

  /* What is being typed and is not an entry yet. */
  const draft = {
    keep(name, value) {
      try {
        localStorage.setItem(DRAFT + reader + ":" + name, JSON.stringify(value));
      } catch {
        /* the field still holds it */
      }
    },
    read(name) {
      try {
        return parsed(localStorage.getItem(DRAFT + reader + ":" + name)) || "";
      } catch {
        return "";
      }
    },
    drop(name) {
      try {
        localStorage.removeItem(DRAFT + reader + ":" + name);
      } catch {
        /* it was never there */
      }
    },
  };

  /* The list beneath the page. */
  function element(name, text, more = {}) {
    return Object.assign(document.createElement(name), { textContent: text, ...more });
  }
  function button(text, about, act) {
    const made = element("button", text, { type: "button", className: "plain" });
    made.append(element("span", " " + about, { className: "visually-hidden" }));
    made.addEventListener("click", act);
    return made;
  }
  function line(entry) {
    const made = element("li", "");
    const state = element("span", entry.state === "look" ? "asked" : entry.state, {
      className: "state",
    });
    state.dataset.state = entry.state;
    const what = element("span", "");
    what.append(element("strong", entry.title), " " + entry.shown);
    made.append(state, what);
    if (entry.state === "waiting") return made;
    made.append(element("p", entry.words));
    const acts = element("div", "", { className: "acts" });
    if (mend) acts.append(button("Change", entry.title, () => mend(entry)));
    acts.append(
      entry.state === "look"
        ? button("Save it as it is", entry.title, () => again(entry, entry.doubts))
        : button("Send again", entry.title, () => again(entry)),
    );
    acts.append(button("Discard", entry.title, () => discard(entry)));
    made.append(acts);
    return made;
  }
  let mend = null;
  function show() {
    if (page && reader) {
      const box = mine();
      const focused = page.contains(document.activeElement);
      const waiting = box.filter((e) => e.state === "waiting").length;
      const refused = box.filter((e) => e.state === "refused").length,
        looks = box.filter((e) => e.state === "look").length;
      page.querySelector("ul").replaceChildren(...box.map(line));
      page.hidden = !box.length;
      if (focused) page.focus();
      page.querySelector(".held").textContent = waiting ? held : "";
      const said = document.getElementById("outbox-told");
      const words =
        [
          waiting && `${waiting} waiting to be sent, kept on this device`,
          refused && `${refused} refused, see below`,
          looks && `${looks} to look at again`,
        ]
          .filter(Boolean)
          .join("; ") || said.dataset.calm;
      if (said.textContent !== words) said.textContent = words;
    }
    showOthers();
  }
  /* Somebody else's, left on this device: never sent in another's name, never shown to a second reader. */
  function showOthers() {
    const note = document.getElementById("outbox-others");
    if (!note) return;
    const others = entries().filter((e) => e.reader !== reader && e.state !== "discarded");
    const names = [...new Set(others.map((e) => e.who))].join(", ");
    note.hidden = !others.length;
    note.querySelector("strong").textContent =
      others.length === 1
        ? `1 entry of ${names} is kept on this device.`
        : `${others.length} entries of ${names} are kept on this device.`;
    const opened = note.querySelector("details");
    if (!opened) return;
    opened.querySelector("ul").replaceChildren(
      ...others.map((entry) => {
        const made = element("li", "");
        made.append(
          element("strong", `${entry.who}: ${entry.title}`),
          ` ${entry.shown} `,
          button("Discard", entry.title, () => discard(entry)),
        );
        return made;
      }),
    );
  }

  window.addEventListener("online", now);
  window.addEventListener("pageshow", now);
  document.addEventListener("visibilitychange", () => {
    if (!document.hidden) now();
  });
  window.addEventListener("storage", (event) => {
    if (!event.key || !event.key.startsWith(BOX + reader + ":")) return;
    const entry = parsed(event.newValue || event.oldValue);
    const gone = event.newValue === null;
    if (entry)
      tell({
        entry,
        state: gone && entry.state !== "discarded" ? "saved" : entry.state,
        words: gone ? "" : entry.words,
      });
    show();
  });
  document.addEventListener("DOMContentLoaded", () => {
    show();
    now();
  });

  return {
    newKey,
    add,
    again,
    discard,
    mine,
    draft,
    listen(act) {
      listeners.push(act);
    },
    mendBy(act) {
      mend = act;
    },
  };
})();
