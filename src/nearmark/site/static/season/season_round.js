/* A round by keyboard: Enter goes to the next pupil, from the last one to the button.
   When the link is lost the page stays as it is; the keys in it keep a second try from counting twice.
   Without this script the same form is sent. */
"use strict";
(() => {
  const form = document.getElementById("round");
  if (!form) return;
  const told = document.getElementById("round-told");
  const save = form.querySelector("button:not([type])");
  const estimates = Array.from(form.querySelectorAll("[data-estimate]"));
  const shown = (field) => field.offsetParent !== null;

  function say(words) {
    told.textContent = words;
    if (words) told.dataset.state = "refused";
    else delete told.dataset.state;
  }
  form.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || event.isComposing || event.target.tagName !== "INPUT") return;
    event.preventDefault();
    const fields = Array.from(form.querySelectorAll("input[inputmode]")).filter(shown);
    const own = fields.indexOf(event.target);
    const next =
      event.target.hasAttribute("data-estimate") && !inParts(event.target)
        ? estimates[estimates.indexOf(event.target) + 1]
        : fields[own + 1];
    (next || save).focus();
    if (next) next.select();
  });
  /* Whoever has opened a pupil's parts goes through them. */
  function inParts(field) {
    const parts = field.closest("li").querySelector("details");
    return Boolean(parts && parts.open);
  }
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
      say("This device is locked. Open it in another tab, then save here; nothing is lost.");
    } catch {
      say("No link: nothing is lost, it is kept on this device. Try again when it is back.");
    }
    save.disabled = false;
  });
  window.addEventListener("pageshow", () => {
    save.disabled = false;
  });
})();
