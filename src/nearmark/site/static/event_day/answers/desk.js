/* What the two desks share, sheets and scale: words above the keypad, the code of a pair, news from the server. */
"use strict";
const nearmarkDesk = (() => {
  const EVERY_MS = 15000;

  /* What has just happened, and what can be done about it: pairs of words and act. */
  function told(state, words, acts = []) {
    const place = document.getElementById("told");
    place.dataset.state = state;
    place.textContent = words;
    document.getElementById("told-acts").replaceChildren(
      ...acts.map(([text, act]) => {
        const made = Object.assign(document.createElement("button"), {
          type: "button",
          className: "plain",
          textContent: text,
        });
        made.addEventListener("click", act);
        return made;
      }),
    );
  }

  /* The number of the pair that a typed or scanned code means; the server made the list of spellings. */
  function meant(codes, typed) {
    const plain = typed.toUpperCase().replace(/\s/g, ""),
      bare = plain.replace(/-/g, "");
    const ways = [plain, bare, /^[0-9]+$/.test(bare) ? bare.replace(/^0+/, "") : bare];
    return String(ways.map((way) => codes[way]).find(Boolean) || "");
  }

  /* A part of the page as the server has it now. */
  let news = 0;
  async function renew(address, id, act) {
    const before = news;
    const answer = await fetch(address, { headers: { Accept: "text/html" }, redirect: "error" });
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const made = page.getElementById(id),
      old = document.getElementById(id);
    // What was said meanwhile is newer than this page; nobody's place or opened list is lost.
    if (
      made &&
      before === news &&
      !old.contains(document.activeElement) &&
      !old.querySelector("details[open]")
    ) {
      old.replaceWith(document.adoptNode(made));
      if (act) act();
    }
    return page;
  }
  function keepNew(id, act) {
    setTimeout(async () => {
      if (!document.hidden)
        try {
          await renew(location.pathname, id, act);
        } catch {
          /* the link is down: what is here stays */
        }
      keepNew(id, act);
    }, EVERY_MS);
  }
  return {
    told,
    meant,
    renew,
    keepNew,
    hear() {
      news += 1;
    },
  };
})();
