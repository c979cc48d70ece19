/* What is missing, asked for again every ten seconds while somebody looks at it. */
"use strict";
(() => {
  const EVERY_MS = 10000;
  const place = document.querySelector("[data-live]");
  if (!place) return;
  document.querySelector("[data-live-told]").hidden = false;

  async function renew() {
    // Nobody's opened list is closed, nobody's place is lost.
    const isBusy =
      document.hidden ||
      place.contains(document.activeElement) ||
      place.querySelector("details[open]");
    if (!isBusy) {
      try {
        const answer = await fetch(place.dataset.live, {
          headers: { Accept: "text/html" },
          redirect: "error",
        });
        const made = new DOMParser()
          .parseFromString(await answer.text(), "text/html")
          .getElementById("missing");
        if (answer.ok && made) place.replaceChildren(document.adoptNode(made));
      } catch {
        /* the link is down: what stands there stays */
      }
    }
    setTimeout(renew, EVERY_MS);
  }
  setTimeout(renew, EVERY_MS);
})();
