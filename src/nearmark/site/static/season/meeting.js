/* A meeting that runs: counts down between two answers of the server, follows another screen to the
   next part, and saves each number as it is typed. Without this script the same form is sent. */
import { countdownText } from "../shared/countdown.js";
import { all, find, need } from "../shared/dom.js";
import { poll } from "../shared/poll.js";

const EVERY_MS = 3000;
const SHOW_MS = 200;

/** @param {HTMLFormElement} form */
function begin(form) {
  const fields = all("input[inputmode]", HTMLInputElement, form);
  form.addEventListener("keydown", (event) => {
    const here = event.target;
    if (event.key !== "Enter" || event.isComposing || !(here instanceof HTMLInputElement)) return;
    event.preventDefault();
    const next = fields[fields.indexOf(here) + 1] ?? need("button", HTMLButtonElement, form);
    next.focus();
    if (next instanceof HTMLInputElement) next.select();
  });
  if (find("[data-meeting]")) run(form, need("[data-meeting]"));
}

/**
 * @param {HTMLFormElement} form
 * @param {HTMLElement} root
 */
function run(form, root) {
  const places = all("[data-place]", HTMLInputElement, form);
  /** @type {Map<HTMLInputElement, string>} */
  const saved = new Map(places.map((field) => [field, field.value]));
  let ends = performance.now() + Number(root.dataset.left);
  let isLeaving = false;
  form.addEventListener("submit", () => (isLeaving = true));
  window.addEventListener("pageshow", () => (isLeaving = false));

  /**
   * @param {HTMLInputElement} field
   * @param {string} words
   * @param {string} state
   */
  function tell(field, words, state) {
    const place = need(`#w-${field.id.slice(2)}`);
    place.textContent = words;
    place.dataset.state = state;
  }

  /** @param {HTMLInputElement} field */
  async function save(field) {
    const value = field.value.trim();
    if (!value || value === saved.get(field) || isLeaving) return;
    const token = need("[name=csrfmiddlewaretoken]", HTMLInputElement, form).value;
    const body = new URLSearchParams({ csrfmiddlewaretoken: token, [field.name]: value });
    try {
      const headers = { Accept: "application/json" };
      const answer = await fetch(form.action, { method: "POST", body, headers, redirect: "error" });
      if (answer.status !== 200 && answer.status !== 422) throw new Error(String(answer.status));
      const [refusal] = Object.values((await answer.json()).refusals);
      if (!refusal) saved.set(field, value);
      field.toggleAttribute("aria-invalid", Boolean(refusal));
      tell(field, refusal ?? "saved", refusal ? "refused" : "saved");
    } catch {
      tell(field, "not saved yet: no link", "waits");
    }
  }

  for (const field of places) field.addEventListener("change", () => save(field));

  function show() {
    const left = Math.max(0, Math.ceil((ends - performance.now()) / 1000));
    const text = countdownText(left);
    const place = need("#left");
    if (place.textContent !== text) place.textContent = text;
    need("#up").hidden = left > 0;
  }

  async function ask(/** @type {AbortSignal} */ signal) {
    const link = need("#link");
    try {
      const answer = await fetch(root.dataset.now ?? "", { cache: "no-store", signal });
      if (!answer.ok || answer.redirected) throw new Error(String(answer.status));
      const told = await answer.json();
      link.hidden = true;
      ends = performance.now() + told.left_ms;
      const isTyped = places.some((field) => field.value !== saved.get(field));
      if (String(told.part) !== root.dataset.part && !isTyped && !isLeaving) location.reload();
      for (const field of places) {
        if (need(`#w-${field.id.slice(2)}`).dataset.state === "waits") save(field);
      }
    } catch (error) {
      link.hidden = false;
      throw error;
    }
  }

  setInterval(show, SHOW_MS);
  poll(ask, { everyMs: EVERY_MS });
}

const form = find("#places", HTMLFormElement);
if (form) begin(form);
