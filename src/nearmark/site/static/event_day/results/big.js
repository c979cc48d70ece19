/* The hall's screen turns its pages by itself: podium first, then everybody, then what was put
   right. Without this script everything is on one long page. */
import { all, fetchedPage, find, need } from "../../shared/dom.js";
import { offerFullScreen } from "../../shared/full_screen.js";
import { poll } from "../../shared/poll.js";

const PODIUM_MS = 20000;
const PAGE_MS = 12000;
const WAITING_MS = 10000;
const GAP_PX = 8;

/** @typedef {{ part: HTMLElement, rows: HTMLElement[], ms: number }} Page */

/* The same page, fetched and put in place: a reload would leave the full screen. */
/** @param {AbortSignal} [signal] */
async function freshPages(signal) {
  return find("[data-pages]", HTMLElement, await fetchedPage(location.href, signal));
}

/** @param {HTMLElement} main */
const partsOf = (main) => all("[data-part]", HTMLElement, main);

/** @param {HTMLElement} main */
const rowsOf = (main) => all("[data-part=all] tbody tr", HTMLElement, main);

/**
 * As many rows a page as the screen holds.
 *
 * @param {HTMLElement} main
 */
function pagesOf(main) {
  main.classList.add("is-paged");
  const rows = rowsOf(main);
  for (const part of partsOf(main)) part.hidden = part.dataset.part !== "all";
  for (const row of rows) row.hidden = false;
  const top = rows[0]?.getBoundingClientRect().top ?? 0;
  const tools = need(".big-tools").getBoundingClientRect().height;
  const room = innerHeight - top - tools - GAP_PX;
  const podium = need(".podium", HTMLElement, main);
  podium.classList.toggle("many", podium.children.length > 3);
  return partsOf(main).flatMap((part) =>
    part.dataset.part === "all"
      ? pagesOfRows(part, rows, room)
      : [{ part, rows: [], ms: PODIUM_MS }],
  );
}

/**
 * @param {HTMLElement} part
 * @param {HTMLElement[]} rows
 * @param {number} room height that the rows of a page may have, in px
 */
function pagesOfRows(part, rows, room) {
  /** @type {Page[]} */
  const pages = [];
  let used = Infinity;
  for (const row of rows) {
    const { height } = row.getBoundingClientRect();
    if (used + height > room) {
      pages.push({ part, rows: [], ms: PAGE_MS });
      used = 0;
    }
    pages[pages.length - 1].rows.push(row);
    used += height;
  }
  return pages;
}

/** @param {HTMLElement} main */
function turnPages(main) {
  const where = need("[data-where]");
  const pause = need("[data-pause]");
  const [toPause, toGoOn] = [pause.textContent, pause.dataset.goOn ?? ""];
  const isPaused = () => pause.getAttribute("aria-pressed") === "true";
  let at = 0;
  /** @type {Page[]} */
  let pages = [];
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let timer;

  function arrange() {
    pages = pagesOf(main);
    at = Math.min(at, pages.length - 1);
  }
  function turn() {
    const page = pages[at];
    for (const part of partsOf(main)) part.hidden = part !== page.part;
    for (const row of rowsOf(main)) row.hidden = !page.rows.includes(row);
    const text = main.dataset.pageOf ?? "";
    where.textContent = text
      .replace("{page}", String(at + 1))
      .replace("{pages}", String(pages.length));
    clearTimeout(timer);
    if (!isPaused()) timer = setTimeout(() => go(1), page.ms);
  }
  /** @param {number} by */
  async function go(by) {
    at = (at + by + pages.length) % pages.length;
    if (at === 0 && by > 0) await renew();
    turn();
  }
  async function renew() {
    try {
      const made = await freshPages();
      if (!made) {
        location.reload();
        return;
      }
      main.replaceChildren(...document.adoptNode(made).childNodes);
      arrange();
    } catch {
      /* the link is down: these are still the results */
    }
  }
  function arrangeAndTurn() {
    arrange();
    turn();
  }

  pause.hidden = false;
  pause.addEventListener("click", () => {
    pause.setAttribute("aria-pressed", String(!isPaused()));
    pause.textContent = isPaused() ? toGoOn : toPause;
    turn();
  });
  for (const button of all("[data-step]")) {
    button.hidden = false;
    button.addEventListener("click", () => go(Number(button.dataset.step)));
  }
  document.addEventListener("keydown", (event) => {
    if (event.target instanceof Element && event.target.closest("button, a")) return;
    if (event.key === "ArrowRight" || event.key === "PageDown") go(1);
    if (event.key === "ArrowLeft" || event.key === "PageUp") go(-1);
  });
  addEventListener("resize", arrangeAndTurn);
  document.fonts.ready.then(arrangeAndTurn);
}

offerFullScreen(need("[data-full]"));

const main = find("[data-pages]");
if (main) {
  turnPages(main);
} else {
  poll(
    async (signal) => {
      if (await freshPages(signal)) location.reload();
    },
    { everyMs: WAITING_MS },
  );
}
