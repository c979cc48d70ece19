/* While it is worked out how sure the places are, ask for it and put it in; without this script the page is loaded again. */
"use strict";
(() => {
  const pending = () => document.querySelector("#sure[data-pending]");

  async function look() {
    const place = pending();
    if (!place) return;
    let page;
    try {
      const answer = await fetch(place.dataset.pending, { headers: { Accept: "text/html" } });
      if (!answer.ok || answer.redirected) throw new Error(answer.status);
      page = new DOMParser().parseFromString(await answer.text(), "text/html");
    } catch {
      setTimeout(look, 5000);
      return;
    }
    // Places and sureness together: they are of one moment. A form that is being filled in stays.
    for (const id of ["places", "sure"]) {
      const here = document.getElementById(id),
        there = page.getElementById(id);
      if (here && there) here.replaceWith(there);
      else if (here && id === "sure") here.remove();
    }
    setTimeout(look, 1000);
  }
  if (pending()) setTimeout(look, 700);
})();
