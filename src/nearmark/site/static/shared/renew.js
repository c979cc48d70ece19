/* A part of a page that renews itself and answers where it is: its forms are sent without leaving
   the page, so that nothing jumps. Without script the same forms load the page again. */
import { all, fetchedPage, find, need, parsedPage } from "./dom.js";
import { poll } from "./poll.js";

const here = () => need("[data-renew]");
let sent = 0;
let address = "";

/** @param {ParentNode} root */
const told = (root) => find("[data-told]", HTMLElement, root);

/** @param {string} words */
function tell(words) {
  const place = told(here());
  if (place) place.textContent = words;
}

/**
 * @param {Document} made
 * @param {string} words
 */
function put(made, words) {
  const old = here();
  const renewed = made.getElementById(old.id);
  if (!renewed) return;
  const active = document.activeElement;
  const focused = active && old.contains(active) ? active.id : "";
  const place = document.adoptNode(renewed);
  const sentence = told(place);
  if (sentence) sentence.textContent = words;
  old.replaceWith(place);
  if (focused) {
    const again = find(`#${CSS.escape(focused)}`, HTMLElement) ?? need("#main", HTMLElement);
    again.focus({ preventScroll: true });
  }
  document.title = made.title;
}

/** @param {Document} made */
function said(made) {
  const [first] = all(".said li, main .refusal, main .to-do", HTMLElement, made);
  return first?.textContent?.trim() ?? "";
}

/**
 * @param {HTMLFormElement} form
 * @param {HTMLElement | null} button
 */
async function send(form, button) {
  const ask = ++sent;
  button?.setAttribute("aria-busy", "true");
  try {
    const answer = await fetch(form.action, {
      method: "POST",
      body: new FormData(form, button),
      headers: { Accept: "text/html" },
    });
    const made = parsedPage(await answer.text());
    if (!answer.ok) {
      tell(said(made) || here().dataset.notDone || "That was not done. Load the page again.");
    } else if (ask === sent) {
      show(answer, made);
    }
  } catch {
    tell(here().dataset.noLink || "No link to the server: nothing was done. Try again.");
  } finally {
    button?.removeAttribute("aria-busy");
  }
}

/**
 * @param {Response} answer
 * @param {Document} made
 */
function show(answer, made) {
  if (!made.getElementById(here().id)) {
    location.assign(answer.url);
    return;
  }
  const url = new URL(answer.url);
  if (answer.redirected) address = url.pathname + url.search;
  put(made, said(made));
}

// Nobody's typing is lost and no open list is closed.
function isBusy() {
  const at = document.activeElement;
  const isField =
    at instanceof HTMLInputElement ||
    at instanceof HTMLSelectElement ||
    at instanceof HTMLTextAreaElement;
  const isTyping = isField && here().contains(at) && at.value !== "";
  return isTyping || Boolean(find("details[open], [aria-busy]", HTMLElement, here()));
}

/** @param {AbortSignal} signal */
async function renew(signal) {
  if (isBusy()) return;
  const ask = ++sent;
  const made = await fetchedPage(address, signal);
  if (ask === sent && !isBusy()) put(made, told(here())?.textContent ?? "");
}

function begin() {
  const place = find("[data-renew]");
  if (!place) return;
  address = place.dataset.at || location.pathname + location.search;
  poll(renew, { everyMs: Number(place.dataset.renew) * 1000 });
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (!(form instanceof HTMLFormElement) || !here().contains(form)) return;
    if (form.method !== "post" || "leaves" in form.dataset) return;
    event.preventDefault();
    send(form, event.submitter);
  });
}

begin();
