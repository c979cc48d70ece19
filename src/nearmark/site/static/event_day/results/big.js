/* The hall's screen turns its pages by itself: podium first, then everybody, then what was put right.
   Without this script everything stands on one long page. */
"use strict";
(() => {
  const PODIUM_MS = 20000,
    PAGE_MS = 12000,
    WAITING_MS = 10000;
  const main = document.querySelector("[data-pages]");
  const full = document.querySelector("[data-full]");
  if (document.fullscreenEnabled) {
    full.hidden = false;
    full.addEventListener("click", () =>
      document.fullscreenElement
        ? document.exitFullscreen()
        : document.documentElement.requestFullscreen(),
    );
  }
  /* The same page, fetched and put in place: a reload would leave the full screen. */
  async function fresh() {
    const answer = await fetch(location.href, {
      headers: { Accept: "text/html" },
      redirect: "error",
    });
    return answer.ok ? new DOMParser().parseFromString(await answer.text(), "text/html") : null;
  }
  if (!main) {
    setInterval(async () => {
      try {
        const page = await fresh();
        if (page && page.querySelector("[data-pages]")) location.reload();
      } catch {
        /* later */
      }
    }, WAITING_MS);
    return;
  }

  const where = document.querySelector("[data-where]");
  const pause = document.querySelector("[data-pause]");
  const steps = [...document.querySelectorAll("[data-step]")];
  let pages = [],
    at = 0,
    timer = 0;

  /* As many rows a page as the screen holds. */
  function lay() {
    main.classList.add("is-paged");
    const parts = [...main.querySelectorAll("[data-part]")];
    const rows = [...main.querySelectorAll("[data-part=all] tbody tr")];
    parts.forEach((part) => {
      part.hidden = part.dataset.part !== "all";
    });
    rows.forEach((row) => {
      row.hidden = false;
    });
    const top = rows.length ? rows[0].getBoundingClientRect().top : 0;
    const tools = document.querySelector(".big-tools").getBoundingClientRect().height;
    const room = innerHeight - top - tools - 8;
    const podium = main.querySelector(".podium");
    podium.classList.toggle("many", podium.children.length > 3);
    pages = [];
    for (const part of parts) {
      if (part.dataset.part !== "all") {
        pages.push({ part, rows: [], ms: PODIUM_MS });
        continue;
      }
      let used = 0;
      for (const row of rows) {
        const { height } = row.getBoundingClientRect();
        const last = pages[pages.length - 1];
        if (last && last.part === part && used + height <= room) {
          last.rows.push(row);
          used += height;
          continue;
        }
        pages.push({ part, rows: [row], ms: PAGE_MS });
        used = height;
      }
    }
    at = Math.min(at, pages.length - 1);
  }
  function turn() {
    const page = pages[at];
    for (const part of main.querySelectorAll("[data-part]")) part.hidden = part !== page.part;
    for (const row of main.querySelectorAll("[data-part=all] tbody tr"))
      row.hidden = !page.rows.includes(row);
    where.textContent = `Page ${at + 1} of ${pages.length}`;
    clearTimeout(timer);
    if (pause.getAttribute("aria-pressed") === "false") timer = setTimeout(() => go(1), page.ms);
  }
  async function go(by) {
    at = (at + by + pages.length) % pages.length;
    if (at === 0 && by > 0) await renew();
    turn();
  }
  async function renew() {
    try {
      const page = await fresh();
      const made = page && page.querySelector("[data-pages]");
      if (!made) {
        if (page) location.reload();
        return;
      }
      main.replaceChildren(...document.adoptNode(made).childNodes);
      lay();
    } catch {
      /* the link is down: these are still the results */
    }
  }
  pause.addEventListener("click", () => {
    const isPaused = pause.getAttribute("aria-pressed") === "false";
    pause.setAttribute("aria-pressed", String(isPaused));
    pause.textContent = isPaused ? "Go on" : "Pause";
    turn();
  });
  steps.forEach((button) => {
    button.hidden = false;
    button.addEventListener("click", () => go(Number(button.dataset.step)));
  });
  pause.hidden = false;
  document.addEventListener("keydown", (event) => {
    if (event.target.closest("button, a")) return;
    if (event.key === "ArrowRight" || event.key === "PageDown") go(1);
    if (event.key === "ArrowLeft" || event.key === "PageUp") go(-1);
  });
  addEventListener("resize", () => {
    lay();
    turn();
  });
  document.fonts.ready.then(() => {
    lay();
    turn();
  });
})();
