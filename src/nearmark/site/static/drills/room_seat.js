/* A seat in a room follows the coach: the page is loaded again when the room goes on.  A guess that
   is typed and not sent is sent first. Without this script the page is loaded again by hand. */
import { find, need } from "../shared/dom.js";
import { poll } from "../shared/poll.js";

const EVERY_MS = 1500;

/** @param {HTMLElement} root */
function follow(root) {
  poll(
    async (signal) => {
      const answer = await fetch(root.dataset.now ?? "", { cache: "no-store", signal });
      if (!answer.ok) throw new Error(String(answer.status));
      if ((await answer.json()).key === root.dataset.roomKey) return true;
      const form = find("form.answering", HTMLFormElement);
      const typed = form && find("[name=estimate]", HTMLInputElement, form)?.value.trim();
      if (form && typed && form.checkValidity()) form.requestSubmit();
      else location.reload();
      return false;
    },
    { everyMs: EVERY_MS },
  );
}

const root = need("[data-room-key]");
// At the end there is nothing to wait for.
if (root.dataset.roomKey) follow(root);
