/* A round by keyboard: Enter goes to the next pupil, from the last one to the button. When the link
   is lost the page stays as it is; the keys in it keep a second try from counting twice. Without
   this script the same form is sent. */
import { all, find, need } from "../shared/dom.js";

const LOCKED = "This device is locked. Open it in another tab, then save here; nothing is lost.";
const NO_LINK = "No link: nothing is lost, it is kept on this device. Try again when it is back.";

/** @param {HTMLElement} field */
const isShown = (field) => field.offsetParent !== null;

/**
 * Whoever has opened a pupil's parts goes through them.
 *
 * @param {HTMLElement} field
 */
const isInParts = (field) => Boolean(field.closest("li")?.querySelector("details")?.open);

/** @param {HTMLFormElement} form */
function begin(form) {
  const place = need("#round-told");
  const save = need("button:not([type])", HTMLButtonElement, form);
  const estimates = all("[data-estimate]", HTMLInputElement, form);

  /** @param {string} words */
  function say(words) {
    place.textContent = words;
    if (words) place.dataset.state = "refused";
    else delete place.dataset.state;
  }
  form.addEventListener("keydown", (event) => {
    const here = event.target;
    if (event.key !== "Enter" || event.isComposing || !(here instanceof HTMLInputElement)) return;
    event.preventDefault();
    const isEstimate = estimates.includes(here) && !isInParts(here);
    const fields = all("input[inputmode]", HTMLInputElement, form).filter(isShown);
    const row = isEstimate ? estimates : fields;
    const next = row[row.indexOf(here) + 1];
    (next ?? save).focus();
    next?.select();
  });
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    save.disabled = true;
    say("");
    try {
      const page = form.action.replace("/save/", "/");
      const answer = await fetch(page, { method: "HEAD", cache: "no-store" });
      if (!answer.redirected) {
        form.submit();
        return;
      }
      say(LOCKED);
    } catch {
      say(NO_LINK);
    }
    save.disabled = false;
  });
  window.addEventListener("pageshow", () => {
    save.disabled = false;
  });
}

const form = find("#round", HTMLFormElement);
if (form) begin(form);
