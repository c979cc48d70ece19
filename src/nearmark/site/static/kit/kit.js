/* As many pieces as last time: filled in when it is pressed, never by itself. */
"use strict";
(() => {
  for (const button of document.querySelectorAll("[data-again]")) {
    button.hidden = false;
    button.addEventListener("click", () => {
      const form = button.form;
      form.elements.pieces.value = button.dataset.again;
      form.elements.mass_g.select();
    });
  }
})();
