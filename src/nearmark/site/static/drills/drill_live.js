/* Who has answered, asked every two seconds while the drill is open. Without this script the page
   is loaded again. */
import { find, parsedPage } from "../shared/dom.js";
import { poll } from "../shared/poll.js";

const live = find("#live[data-state]");
let shown = "";

/** @param {AbortSignal} signal */
async function look(signal) {
  if (!live) return false;
  const answer = await fetch(live.dataset.state ?? "", { signal });
  if (answer.redirected || !answer.ok) {
    location.reload(); // the server answers something else: closed, locked, another coach's
    return false;
  }
  const text = await answer.text();
  if (text !== shown && !live.contains(document.activeElement)) {
    live.replaceChildren(...parsedPage(text).body.childNodes);
    shown = text;
  }
  return true;
}

poll(look, { everyMs: 2000 });
