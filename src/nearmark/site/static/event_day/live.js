/* What is missing, asked for again every ten seconds while somebody looks at it. */
import { fetchedPage, find, need } from "../shared/dom.js";
import { poll } from "../shared/poll.js";

const place = need("[data-live]");

poll(
  async (signal) => {
    // Nobody's opened list is closed, nobody's place is lost.
    if (place.contains(document.activeElement) || find("details[open]", HTMLElement, place)) return;
    const made = (await fetchedPage(place.dataset.live ?? "", signal)).getElementById("missing");
    if (made) place.replaceChildren(document.adoptNode(made));
  },
  { everyMs: 10000 },
);
need("[data-live-told]").hidden = false;
