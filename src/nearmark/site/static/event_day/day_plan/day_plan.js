/* Sliders beside the number fields, and an answer that follows them. Without script the form shows
   the day when its button is pressed, and the page loads itself again until all days are played. */
import { all, element, fetchedPage, find, need } from "../../shared/dom.js";
import { poll } from "../../shared/poll.js";

const WAIT_MS = 300;

const form = need("#what-if", HTMLFormElement);
/** @type {ReturnType<typeof setTimeout> | undefined} */
let timer;
let asked = 0;

function address() {
  const chosen = new URLSearchParams();
  for (const [name, value] of new FormData(form)) chosen.set(name, String(value));
  return `${location.pathname}?${chosen}`;
}

/** @param {Document} page */
function put(page) {
  const there = page.getElementById("answer");
  if (!there) return;
  need("#answer").replaceWith(document.adoptNode(there));
}

/** @param {string} words */
function tell(words) {
  const place = need("#asked-told");
  place.textContent = words;
  place.hidden = !words;
}

/** @param {boolean} isPressed */
async function ask(isPressed) {
  const own = ++asked;
  const to = address();
  need("#answer").setAttribute("aria-busy", "true");
  try {
    const page = await fetchedPage(to);
    if (own !== asked) return;
    put(page);
    history.replaceState(null, "", to);
    if (isPending()) follow();
    tell(find("#head")?.textContent ?? "");
  } catch {
    if (own !== asked) return;
    // A number that is refused, or no link: the whole page says which one and why.
    if (isPressed) form.submit();
    else tell("Not shown yet: press the button to see why.");
  } finally {
    find("#answer")?.removeAttribute("aria-busy");
  }
}

/** @param {HTMLInputElement} field */
function slide(field) {
  const slider = document.createElement("input");
  slider.type = "range";
  slider.min = field.min;
  slider.max = field.dataset.slidesTo ?? field.max;
  slider.value = field.value;
  const label = field.labels?.[0]?.textContent?.trim() ?? field.name;
  slider.setAttribute("aria-label", `${label}, slider`);
  const both = element("div", "", { className: "slid" });
  field.replaceWith(both);
  both.append(slider, field);
  slider.addEventListener("input", () => {
    field.value = slider.value;
  });
  field.addEventListener("input", () => {
    slider.value = field.value;
  });
}

const isPending = () => Boolean(find("#answer[data-pending]"));

function follow() {
  const own = asked;
  poll(
    async (signal) => {
      if (own !== asked || !isPending()) return false;
      const page = await fetchedPage(location.pathname + location.search, signal);
      if (own !== asked) return false;
      put(page);
      return isPending();
    },
    { everyMs: 1000, maxWaitMs: 5000 },
  );
}

for (const field of all("input[data-slider]", HTMLInputElement, form)) slide(field);
form.addEventListener("input", () => {
  clearTimeout(timer);
  if (form.checkValidity()) timer = setTimeout(ask, WAIT_MS, false);
});
form.addEventListener("submit", (event) => {
  if (!form.checkValidity()) return;
  event.preventDefault();
  clearTimeout(timer);
  ask(true);
});
if (isPending()) follow();
