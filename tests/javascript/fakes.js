/* A browser without a browser: a store, a clock that a test turns, and a server that a test plays. */
import { webcrypto } from "node:crypto";

globalThis.crypto ??= /** @type {Crypto} */ (webcrypto); // Node.js 18 has none of its own

/** A localStorage whose keys are its own, as a real one's are. */
export class FakeStorage {
  /** @param {string} name */
  getItem(name) {
    return Object.hasOwn(this, name) ? /** @type {any} */ (this)[name] : null;
  }
  /**
   * @param {string} name
   * @param {string} value
   */
  setItem(name, value) {
    /** @type {any} */ (this)[name] = value;
  }
  /** @param {string} name */
  removeItem(name) {
    delete (/** @type {any} */ (this)[name]);
  }
}

/** Let everything run that waits for promises only. */
const settled = () => new Promise((done) => realSetImmediate(done));
const realSetImmediate = setImmediate;

/** Timers that run when a test says so. */
export class FakeClock {
  now = 0;
  /** @type {Map<number, { at: number, act: () => void }>} */
  timers = new Map();
  nMade = 0;

  /**
   * @param {() => void} act
   * @param {number} [ms]
   */
  set = (act, ms = 0) => {
    this.nMade += 1;
    this.timers.set(this.nMade, { at: this.now + ms, act });
    return this.nMade;
  };

  /** @param {number} id */
  clear = (id) => this.timers.delete(id);

  /** @param {number} ms */
  async pass(ms) {
    const end = this.now + ms;
    await settled();
    for (;;) {
      const due = [...this.timers].filter(([, { at }]) => at <= end);
      if (!due.length) break;
      const [id, { at, act }] = due.reduce((a, b) => (b[1].at < a[1].at ? b : a));
      this.timers.delete(id);
      this.now = at;
      act();
      await settled();
    }
    this.now = end;
  }
}

/**
 * Put a fake browser in the place of the globals.
 *
 * @param {(url: string, options: RequestInit) => Promise<object>} fetch
 */
export function openBrowser(fetch) {
  const clock = new FakeClock();
  Date.now = () => clock.now;
  const window = new EventTarget();
  const document = Object.assign(new EventTarget(), { hidden: false });
  Object.assign(globalThis, {
    window,
    document,
    location: { pathname: "/entry/", search: "" },
    localStorage: new FakeStorage(),
    setTimeout: clock.set,
    clearTimeout: clock.clear,
    fetch,
  });
  return {
    clock,
    window,
    /** @param {boolean} isHidden */
    hide(isHidden) {
      document.hidden = isHidden;
      document.dispatchEvent(new Event("visibilitychange"));
    },
  };
}
