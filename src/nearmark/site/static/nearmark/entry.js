/* The grid without the page load: each cell is sent when it is left, and again until it is acknowledged.
   Without this script the same form is sent as a whole. */
"use strict";
(() => {
  const form = document.getElementById("grid");
  if (!form) return;
  const status = document.getElementById("outbox");
  const token = form.querySelector("[name=csrfmiddlewaretoken]").value;
  const cells = [...form.querySelectorAll("[data-cell]")];
  // One outbox a person: what one has typed must never be sent as another's reading.
  const store = "nearmark-outbox-" + form.dataset.reader;
  const sending = new Set();

  const waiting = () => { try { return JSON.parse(localStorage.getItem(store)) || {}; } catch { return {}; } };
  const keep = (box) => { try { localStorage.setItem(store, JSON.stringify(box)); } catch { /* private mode: the form still works */ } };
  const add = (key, entry) => { const box = waiting(); box[key] = entry; keep(box); };
  const drop = (key) => { const box = waiting(); delete box[key]; keep(box); };

  const say = (name, words, bad) => {
    const place = document.getElementById("s-" + name);
    if (!place) return;
    place.textContent = words;
    place.classList.toggle("bad", Boolean(bad));
    const input = form.querySelector(`[data-cell="${name}"]`);
    if (input) input.setAttribute("aria-invalid", bad ? "true" : "false");
  };
  const tell = () => {
    const n = Object.keys(waiting()).length;
    status.textContent = n ? `${n} waiting to be sent: leave this page open` : "everything typed is saved";
  };

  async function send(key, entry) {
    if (sending.has(key)) return;
    sending.add(key);
    say(entry.name, "waiting", false);
    const body = new URLSearchParams({ csrfmiddlewaretoken: token, ["v-" + entry.name]: entry.value, ["k-" + entry.name]: key });
    try {
      const answer = await fetch(form.action, { method: "POST", body, headers: { Accept: "application/json" }, redirect: "manual" });
      if (answer.type === "opaqueredirect") throw new Error("waiting: this device is locked, load the page again");
      if (answer.status !== 200 && answer.status !== 422) throw new Error("not taken: waiting");
      const told = await answer.json();
      drop(key);
      const input = form.querySelector(`[data-cell="${entry.name}"]`);
      if (told.saved.includes(entry.name)) {
        say(entry.name, told.questions[entry.name] || "saved", Boolean(told.questions[entry.name]));
        if (input) { input.readOnly = true; input.dataset.saved = "yes"; }
      } else {
        say(entry.name, told.refused[entry.name] || "not saved", true);
      }
    } catch (trouble) {
      say(entry.name, trouble instanceof TypeError ? "waiting for the link" : trouble.message, true);
    } finally {
      sending.delete(key);
      tell();
    }
  }

  function leave(input) {
    if (!input.value.trim() || input.dataset.saved) return;
    const name = input.dataset.cell;
    const key = form.elements["k-" + name].value;
    const entry = { name, value: input.value };
    add(key, entry);
    send(key, entry);
  }

  cells.forEach((input) => input.addEventListener("change", () => leave(input)));
  form.addEventListener("keydown", (event) => {
    const at = cells.indexOf(event.target);
    if (at < 0 || !["Enter", "ArrowDown", "ArrowUp"].includes(event.key)) return;
    event.preventDefault();
    const column = event.target.dataset.cell.split("-")[1];
    const same = cells.filter((cell) => cell.dataset.cell.split("-")[1] === column);
    const next = same[same.indexOf(event.target) + (event.key === "ArrowUp" ? -1 : 1)];
    if (next) next.focus(); else event.target.blur();
  });
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    cells.forEach(leave);
    resend();
  });
  function resend() { Object.entries(waiting()).forEach(([key, entry]) => send(key, entry)); }
  window.addEventListener("online", resend);
  setInterval(resend, 5000);
  window.addEventListener("beforeunload", (event) => { if (Object.keys(waiting()).length) event.preventDefault(); });
  resend();
  tell();
})();
