/* Who has answered, asked every two seconds while the drill is open; without this script the page is loaded again. */
"use strict";
(() => {
  const live = document.getElementById("live");
  if (!live || !live.dataset.state) return;
  let shown = "";
  async function look() {
    try {
      const answer = await fetch(live.dataset.state, { credentials: "same-origin" });
      if (answer.redirected || !answer.ok) {
        location.reload();
        return;
      }
      const text = await answer.text();
      if (text !== shown && !live.contains(document.activeElement)) {
        live.replaceChildren(...new DOMParser().parseFromString(text, "text/html").body.childNodes);
        shown = text;
      }
    } catch {
      /* The link is lost: ask again. */
    }
    setTimeout(look, 2000);
  }
  setTimeout(look, 2000);
})();
