/* Asks the server again and again: not while nobody looks at the page, later and later while the
   link is lost, and at once when it is back. */

const MAX_WAIT_MS = 15000;
const MAX_ANSWER_MS = 15000;

/**
 * Poll until `ask` returns false.  Whatever it throws counts as a lost link: the page stays as it
 * is, and it is asked again later.
 *
 * @param {(signal: AbortSignal) => Promise<unknown>} ask
 * @param {object} options
 * @param {number} options.everyMs from an answer to the next question
 * @param {number} [options.firstMs] until the first question
 * @param {number} [options.maxWaitMs] between two questions while the link is lost
 * @param {boolean} [options.whileHidden] ask although the page is in the background
 * @returns {() => void} asks at once
 */
export function poll(ask, { everyMs, firstMs = everyMs, maxWaitMs, whileHidden = false }) {
  const longestMs = maxWaitMs ?? Math.max(everyMs, MAX_WAIT_MS);
  let waitMs = everyMs;
  let isAsking = false;
  let isOver = false;
  let timer = setTimeout(now, firstMs);

  async function now() {
    if (isAsking || isOver) return;
    clearTimeout(timer);
    if (document.hidden && !whileHidden) return; // it asks as soon as somebody looks
    isAsking = true;
    const stop = new AbortController();
    const alarm = setTimeout(() => stop.abort(), MAX_ANSWER_MS);
    try {
      isOver = (await ask(stop.signal)) === false;
      waitMs = everyMs;
    } catch {
      waitMs = Math.min(2 * waitMs, longestMs);
    }
    clearTimeout(alarm);
    isAsking = false;
    if (!isOver) timer = setTimeout(now, waitMs);
  }
  window.addEventListener("online", now);
  document.addEventListener("visibilitychange", now);
  return now;
}
