/* While it is worked out how sure the places are, ask for it and put it in. Without this script the
   page is loaded again. */
import { fetchedPage, find } from "../../shared/dom.js";
import { poll } from "../../shared/poll.js";

const pending = () => find("#sure[data-pending]");

/** @param {AbortSignal} signal */
async function look(signal) {
  const address = pending()?.dataset.pending;
  if (!address) return false;
  const page = await fetchedPage(address, signal);
  // Places and sureness together: they are of one moment.  A form that is being filled in stays.
  for (const id of ["places", "sure"]) {
    const here = document.getElementById(id);
    const there = page.getElementById(id);
    if (here && there) here.replaceWith(there);
    else if (here && id === "sure") here.remove();
  }
  return Boolean(pending());
}

if (pending()) poll(look, { everyMs: 1000, firstMs: 700, maxWaitMs: 5000 });
