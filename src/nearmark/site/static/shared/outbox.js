/* What was typed, until the server says that it is on its disk.
   Every entry has a place of its own in localStorage, so that two tabs never write over each other,
   and a key made before it is first sent: however often it arrives, the server counts it once.
   Plain http in a hall has no service worker, no crypto.randomUUID and no navigator.locks. */

/**
 * What a page adds.
 *
 * @typedef {object} NewEntry
 * @property {string} key counted once by the server
 * @property {string} name how the server calls it in its answer
 * @property {string} url where it is sent
 * @property {Record<string, string>} fields
 * @property {string} title what it is, for the person
 * @property {string} shown what was typed, for the person
 * @property {string} [cell] the answer of a sheet that it belongs to
 * @property {boolean} [isCup] whether it belongs to the scale
 */

/** @typedef {"waiting" | "refused" | "look" | "discarded"} State */

/**
 * What is kept of it.
 *
 * @typedef {object} Kept
 * @property {string} page address to go back to
 * @property {string} reader number of the account that typed it
 * @property {string} who name of that account
 * @property {number} at when it was typed, in ms
 * @property {State} state
 * @property {string} words what the server said about it
 * @property {string[]} [doubts] what the server asks about
 * @property {string[]} [answered] doubts that the person has answered
 * @property {[string, string][]} [back] keys and titles of what could be taken back instead
 */

/** @typedef {NewEntry & Kept} Entry */

/** @typedef {{ entry: Entry, state: State | "saved", words: string }} News */

/**
 * How the server answers.
 *
 * @typedef {object} Answer
 * @property {string} [held] why it took nothing: locked, out, a stale token
 * @property {string} [what]
 * @property {string} [mend]
 * @property {string[]} [saved] names of entries
 * @property {Record<string, string>} [words]
 * @property {Record<string, string>} [refused]
 * @property {Record<string, { words: string, ids: string[] }>} [asked]
 * @property {Record<string, [string, string][]>} [back]
 */

const BOX = "nearmark-outbox:";
const DRAFT = "nearmark-draft:";
const MIN_WAIT_MS = 1000;
const MAX_WAIT_MS = 30000;
const MAX_ANSWER_MS = 15000;

/** A random key in the form of a UUID, version 4. */
export function newKey() {
  const b = crypto.getRandomValues(new Uint8Array(16));
  b[6] = (b[6] & 15) | 64;
  b[8] = (b[8] & 63) | 128;
  const hex = [...b].map((n) => n.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})/, "$1-$2-$3-$4-");
}

/** @param {string | null} text */
function parsed(text) {
  try {
    return JSON.parse(text ?? "null");
  } catch {
    return null;
  }
}

/** @param {Entry} entry */
const placeOf = (entry) => `${BOX}${entry.reader}:${entry.key}`;

/**
 * False where the browser keeps nothing.
 *
 * @param {string} place
 * @param {unknown} value
 */
function store(place, value) {
  try {
    localStorage.setItem(place, JSON.stringify(value));
    return true;
  } catch {
    return false;
  }
}

/** @param {string} place */
function drop(place) {
  try {
    localStorage.removeItem(place);
  } catch {
    /* it was never there */
  }
}

/**
 * Every entry on this device, whoever typed it, in the order of typing.
 *
 * @returns {Entry[]}
 */
export function entries() {
  try {
    const places = Object.keys(localStorage).filter((place) => place.startsWith(BOX));
    const found = places.map((place) => parsed(localStorage.getItem(place))).filter(Boolean);
    return found.sort((a, b) => a.at - b.at);
  } catch {
    return [];
  }
}

/** The entries of one reader, and their way to the server. */
export class Outbox {
  /**
   * @param {object} options
   * @param {string} options.reader number of the account; empty where nobody is signed in
   * @param {string} options.who its name
   * @param {string} options.token of the page, against forged forms
   * @param {() => Promise<string | null>} options.freshToken of a new page of the same reader
   */
  constructor({ reader, who, token, freshToken }) {
    this.reader = reader;
    this.who = who;
    this.token = token;
    this.freshToken = freshToken;
    /** Why nothing goes just now, in words. */
    this.held = "";
    this.waitMs = MIN_WAIT_MS;
    this.isSending = false;
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    this.timer = undefined;
    /** @type {((news: News) => void)[]} */
    this.listeners = [];
    /** @type {() => void} */
    this.show = () => {};
  }

  /** @param {(news: News) => void} act */
  listen(act) {
    this.listeners.push(act);
  }

  /** @param {News} news */
  tell(news) {
    this.listeners.forEach((listen) => listen(news));
  }

  /** The entries of this reader. */
  mine() {
    return entries().filter((entry) => entry.reader === this.reader);
  }

  waiting() {
    return this.mine().filter((entry) => entry.state === "waiting");
  }

  /**
   * Whether it is kept; if not, the page must send its form as without script.
   *
   * @param {NewEntry} entry
   */
  add(entry) {
    const page = location.pathname + location.search;
    /** @type {Entry} */
    const whole = {
      ...entry,
      page,
      reader: this.reader,
      who: this.who,
      at: Date.now(),
      state: "waiting",
      words: "",
    };
    if (!store(placeOf(whole), whole)) return false;
    this.moved(whole, "waiting");
    this.now();
    return true;
  }

  /**
   * Send as it is what was refused before, or what has its doubts answered now.
   *
   * @param {Entry} entry
   * @param {string[]} [answered]
   */
  again(entry, answered = []) {
    change(entry, { state: "waiting", words: "", answered });
    this.moved(entry, "waiting");
    this.now();
  }

  /** @param {Entry} entry */
  discard(entry) {
    change(entry, { state: "discarded" });
    drop(placeOf(entry));
    this.moved(entry, "discarded");
  }

  /**
   * @param {Entry} entry
   * @param {State} state
   */
  moved(entry, state) {
    this.tell({ entry, state, words: "" });
    this.show();
  }

  /**
   * Another tab has changed the store.
   *
   * @param {Pick<StorageEvent, "key" | "oldValue" | "newValue">} event
   */
  heard({ key, oldValue, newValue }) {
    if (!key || !key.startsWith(`${BOX}${this.reader}:`)) return;
    const entry = parsed(newValue || oldValue);
    const isGone = newValue === null;
    const state = isGone && entry?.state !== "discarded" ? "saved" : entry?.state;
    if (entry) this.tell({ entry, state, words: isGone ? "" : entry.words });
    this.show();
  }

  /** Send without waiting any longer. */
  now() {
    this.waitMs = MIN_WAIT_MS;
    return this.sendAll();
  }

  /* One at a time, in the order of typing; after a failure later and later. */
  async sendAll() {
    if (this.isSending || !this.reader) return;
    this.isSending = true;
    clearTimeout(this.timer);
    let hasArrived = true;
    for (const entry of this.waiting()) {
      try {
        hasArrived = await this.send(entry);
      } catch {
        hasArrived = false;
        this.held = "";
      }
      if (!hasArrived) break;
    }
    this.isSending = false;
    this.waitMs = hasArrived ? MIN_WAIT_MS : Math.min(2 * this.waitMs, MAX_WAIT_MS);
    if (this.waiting().length) {
      this.timer = setTimeout(() => this.sendAll(), hasArrived ? 0 : this.waitMs);
    }
    this.show();
  }

  /**
   * True when the server has spoken about this entry.
   *
   * @param {Entry} entry
   */
  async send(entry) {
    let [status, answer] = await post(entry, this.token);
    if (answer.held === "stale") {
      const token = await this.freshToken();
      if (token !== null) {
        this.token = token;
        [status, answer] = await post(entry, token);
      }
    }
    const why = [answer.what, answer.mend].filter(Boolean).join(". ");
    this.held = answer.held || answer.what ? `${why}.` : "";
    if (status !== 200 && status !== 422) return false;
    if (answer.saved?.includes(entry.name)) {
      drop(placeOf(entry));
      this.tell({ entry, state: "saved", words: answer.words?.[entry.name] ?? "" });
      return true;
    }
    const asked = answer.asked?.[entry.name];
    const words = asked ? asked.words : answer.refused?.[entry.name];
    if (!words) return false;
    const state = asked ? "look" : "refused";
    const back = answer.back?.[entry.name] ?? [];
    change(entry, { state, words, doubts: asked ? asked.ids : [], back });
    this.tell({ entry, state, words });
    return true;
  }

  /**
   * Keep what is being typed and is not an entry yet.
   *
   * @param {string} name
   * @param {string} value
   */
  keepDraft(name, value) {
    store(`${DRAFT}${this.reader}:${name}`, value); // if not kept, the field still holds it
  }

  /**
   * @param {string} name
   * @returns {string}
   */
  draft(name) {
    try {
      return parsed(localStorage.getItem(`${DRAFT}${this.reader}:${name}`)) || "";
    } catch {
      return "";
    }
  }

  /** @param {string} name */
  dropDraft(name) {
    drop(`${DRAFT}${this.reader}:${name}`);
  }
}

/**
 * @param {Entry} entry
 * @param {Partial<Entry>} changes
 */
function change(entry, changes) {
  // Another tab may have had its answer meanwhile: what is gone stays gone.
  if (localStorage.getItem(placeOf(entry)) === null) return;
  store(placeOf(entry), Object.assign(entry, changes));
}

/**
 * @param {Entry} entry
 * @param {string} token
 * @returns {Promise<[number, Answer]>}
 */
async function post(entry, token) {
  const stop = new AbortController();
  const alarm = setTimeout(() => stop.abort(), MAX_ANSWER_MS);
  try {
    const body = new URLSearchParams({
      ...entry.fields,
      reader: entry.reader,
      csrfmiddlewaretoken: token,
    });
    entry.answered?.forEach((doubt) => body.append("doubt", doubt));
    const answer = await fetch(entry.url, {
      method: "POST",
      body,
      headers: { Accept: "application/json" },
      redirect: "error",
      signal: stop.signal,
    });
    return [answer.status, await answer.json().catch(() => ({}))];
  } finally {
    clearTimeout(alarm);
  }
}
