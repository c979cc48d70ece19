/* A part of a page that renews itself and answers where it is: its forms are sent without leaving the
   page, so that nothing jumps.  Without script the same forms load the page again. */
"use strict";
(() => {
  const here = () => document.querySelector("[data-renew]");
  if (!here()) return;
  const every_ms = Number(here().dataset.renew) * 1000;
  let address = here().dataset.at || location.pathname + location.search;
  let sent = 0;

  function read(text) {
    return new DOMParser().parseFromString(text, "text/html");
  }

  function put(made, words) {
    const old = here();
    const renewed = made.getElementById(old.id);
    if (!renewed) return false;
    const focused = old.contains(document.activeElement) ? document.activeElement.id : "";
    const place = document.adoptNode(renewed);
    const told = place.querySelector("[data-told]");
    if (told) told.textContent = words;
    old.replaceWith(place);
    if (focused)
      (document.getElementById(focused) || document.getElementById("main")).focus({
        preventScroll: true,
      });
    document.title = made.title;
    return true;
  }

  function said(made) {
    return [...made.querySelectorAll(".said li, main .refusal, main .to-do")]
      .slice(0, 1)
      .map((one) => one.textContent.trim())
      .join(" ");
  }

  async function send(form, button) {
    const ask = ++sent;
    button?.setAttribute("aria-busy", "true");
    try {
      const answer = await fetch(form.action, {
        method: "POST",
        body: new FormData(form, button),
        headers: { Accept: "text/html" },
      });
      const made = read(await answer.text());
      if (ask !== sent && answer.ok) return;
      const is_own = made.getElementById(here().id);
      if (answer.ok && !is_own) {
        location.assign(answer.url);
        return;
      }
      if (answer.ok) {
        const kept = new URL(answer.url);
        if (answer.redirected) address = kept.pathname + kept.search;
        put(made, said(made));
        return;
      }
      const told = here().querySelector("[data-told]");
      if (told) told.textContent = said(made) || "That was not done. Load the page again.";
    } catch {
      const told = here().querySelector("[data-told]");
      if (told) told.textContent = "No link to the server: nothing was done. Try again.";
    } finally {
      button?.removeAttribute("aria-busy");
    }
  }

  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (!here().contains(form) || form.method !== "post" || "leaves" in form.dataset) return;
    event.preventDefault();
    send(form, event.submitter);
  });

  // Nobody's typing is lost and no open list is closed.
  function is_busy() {
    const at = document.activeElement;
    const types =
      at &&
      here().contains(at) &&
      ["INPUT", "SELECT", "TEXTAREA"].includes(at.tagName) &&
      at.value !== "";
    return document.hidden || types || here().querySelector("details[open], [aria-busy]");
  }

  async function renew() {
    if (!is_busy()) {
      const ask = ++sent;
      try {
        const answer = await fetch(address, {
          headers: { Accept: "text/html" },
          redirect: "error",
        });
        const made = read(await answer.text());
        const told = here().querySelector("[data-told]");
        if (answer.ok && ask === sent && !is_busy()) put(made, told ? told.textContent : "");
      } catch {
        /* the link is down: what is there stays */
      }
    }
    setTimeout(renew, every_ms);
  }
  setTimeout(renew, every_ms);
})();
