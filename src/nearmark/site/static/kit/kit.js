/* As many pieces as last time: filled in when it is pressed, never by itself. */
import { all, need } from "../shared/dom.js";

for (const button of all("[data-again]", HTMLButtonElement)) {
  button.hidden = false;
  button.addEventListener("click", () => {
    const form = button.form;
    if (!form) return;
    need('[name="pieces"]', HTMLInputElement, form).value = button.dataset.again ?? "";
    need('[name="mass_g"]', HTMLInputElement, form).select();
  });
}
