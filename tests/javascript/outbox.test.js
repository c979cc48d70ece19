/* The outbox: nothing that was typed is lost, nothing is counted twice, nothing goes in another's name. */
import assert from "node:assert/strict";
import test from "node:test";
import { entries, newKey, Outbox } from "../../src/nearmark/site/static/shared/outbox.js";
import { openBrowser } from "./fakes.js";

/** @typedef {import("../../src/nearmark/site/static/shared/outbox.js").Answer} Answer */
/** @typedef {(entry: URLSearchParams) => [number, Answer] | null} Speak what the server says */

/**
 * A desk of one reader, and a server that counts each key once.
 *
 * @param {object} [options]
 * @param {string} [options.reader]
 */
function desk({ reader = "7" } = {}) {
  /** @type {string[][]} */
  const received = [];
  /** @type {Set<string>} */
  const counted = new Set();
  /** @type {Speak} */
  const save = (body) => {
    counted.add(body.get("key") ?? "");
    return [200, { saved: [body.get("name") ?? ""], words: { a: "kept" } }];
  };
  const server = { speak: save, save, received, counted, token: "first" };
  const browser = openBrowser(async (_url, { body }) => {
    const sent = /** @type {URLSearchParams} */ (body);
    received.push([sent.get("name") ?? "", sent.get("csrfmiddlewaretoken") ?? ""]);
    const said = server.speak(sent);
    if (!said) throw new TypeError("no link");
    return { status: said[0], json: async () => said[1] };
  });
  const make = () =>
    new Outbox({ reader, who: "Juniper", token: "first", freshToken: async () => server.token });
  const outbox = make();
  /** @type {string[]} */
  const news = [];
  outbox.listen(({ entry, state, words }) => news.push(`${entry.name} ${state} ${words}`.trim()));
  /** @param {string} name */
  const type = (name) => {
    const key = newKey();
    return outbox.add({
      key,
      name,
      url: "/save/",
      title: "P01, C1",
      shown: "120",
      fields: { key, name },
    });
  };
  return { ...browser, server, outbox, news, type, reload: make };
}

test("an entry goes to the server, and leaves the device only when it is saved", async () => {
  const { clock, server, outbox, news, type } = desk();
  type("a");
  assert.equal(entries().length, 1);
  await clock.pass(0);
  assert.equal(server.counted.size, 1);
  assert.deepEqual(entries(), []);
  assert.deepEqual(news, ["a waiting", "a saved kept"]);
  assert.equal(outbox.held, "");
});

test("without a link everything is kept, and goes in the order of typing when it is back", async () => {
  const { clock, server, type } = desk();
  server.speak = () => null;
  for (const name of ["a", "b", "c"]) {
    type(name);
    await clock.pass(10);
  }
  await clock.pass(60000);
  assert.equal(entries().length, 3);
  assert.ok(
    server.received.every(([name]) => name === "a"),
    "one that fails holds the others",
  );
  // A browser may list its store in any order.
  for (const [place, value] of Object.entries(localStorage).reverse()) {
    localStorage.removeItem(place);
    localStorage.setItem(place, value);
  }
  server.speak = server.save;
  server.received.length = 0;
  await clock.pass(60000);
  assert.deepEqual(
    server.received.map(([name]) => name),
    ["a", "b", "c"],
  );
  assert.deepEqual(entries(), []);
});

test("two typed at once go one after the other, each once", async () => {
  const { clock, server, type } = desk();
  type("a");
  type("b");
  await clock.pass(100);
  assert.deepEqual(
    server.received.map(([name]) => name),
    ["a", "b"],
  );
});

test("it tries later and later, at most every half a minute", async () => {
  const { clock, server, type } = desk();
  /** @type {number[]} */
  const at = [];
  server.speak = () => {
    at.push(clock.now);
    return null;
  };
  type("a");
  await clock.pass(125000);
  assert.deepEqual(
    at.slice(1).map((moment, k) => moment - at[k]),
    [2000, 4000, 8000, 16000, 30000, 30000, 30000],
  );
});

test("an answer that is torn off after saving counts once", async () => {
  const { clock, server, type } = desk();
  let isTorn = true;
  server.speak = (body) => {
    const said = server.save(body);
    if (!isTorn) return said;
    isTorn = false;
    return null;
  };
  type("a");
  await clock.pass(10000);
  assert.equal(server.received.length, 2);
  assert.equal(server.counted.size, 1);
  assert.deepEqual(entries(), []);
});

test("an answer that does not speak of the entry does not take it off the device", async () => {
  for (const said of [{}, { saved: ["another"] }]) {
    const { clock, server, type } = desk();
    server.speak = () => [200, said];
    type("a");
    await clock.pass(100);
    assert.equal(entries().length, 1);
  }
});

test("a server error keeps the entry as it is, whatever else it says", async () => {
  const { clock, server, type } = desk();
  server.speak = () => [503, { what: "Nothing was saved", refused: { a: "the disk is full" } }];
  type("a");
  await clock.pass(100);
  assert.equal(entries()[0].state, "waiting");
});

test("what the server holds is said in words", async () => {
  const { clock, server, outbox, type } = desk();
  server.speak = () => [403, { held: "locked", what: "The device is locked", mend: "Unlock it" }];
  type("a");
  await clock.pass(100);
  assert.equal(outbox.held, "The device is locked. Unlock it.");
  server.speak = server.save;
  await clock.pass(60000);
  assert.deepEqual(entries(), []);
});

test("a stale token is renewed, and the entry sent once more", async () => {
  const { clock, server, type } = desk();
  server.token = "second";
  server.speak = (body) =>
    body.get("csrfmiddlewaretoken") === "second" ? server.save(body) : [403, { held: "stale" }];
  type("a");
  await clock.pass(0);
  assert.deepEqual(server.received, [
    ["a", "first"],
    ["a", "second"],
  ]);
  assert.deepEqual(entries(), []);
});

test("what was refused stays with its words, is not sent again by itself, and lets others by", async () => {
  const { clock, server, outbox, news, type } = desk();
  server.speak = (body) =>
    body.get("name") === "a" ? [422, { refused: { a: "no number" } }] : server.save(body);
  type("a");
  await clock.pass(0);
  type("b");
  await clock.pass(60000);
  assert.deepEqual(news.slice(1), ["a refused no number", "b waiting", "b saved"]);
  const [left] = outbox.mine();
  assert.deepEqual([left.name, left.state, left.words], ["a", "refused", "no number"]);
  assert.equal(server.received.filter(([name]) => name === "a").length, 1);
});

test("a doubt is asked, and the answer to it goes with the entry", async () => {
  const { clock, server, outbox, type } = desk();
  server.speak = (body) =>
    body.getAll("doubt").includes("far-off")
      ? server.save(body)
      : [422, { asked: { a: { words: "That is far off", ids: ["far-off"] } } }];
  type("a");
  await clock.pass(0);
  const [asked] = outbox.mine();
  assert.deepEqual([asked.state, asked.doubts], ["look", ["far-off"]]);
  outbox.again(asked, asked.doubts);
  await clock.pass(0);
  assert.deepEqual(entries(), []);
});

test("after a reload the same entries are there and go with their own keys", async () => {
  const { clock, server, type, reload } = desk();
  server.speak = () => null;
  type("a");
  await clock.pass(10);
  const [before] = entries();
  server.speak = server.save;
  reload().now();
  await clock.pass(0);
  assert.deepEqual([...server.counted], [before.key]);
});

test("entries of another reader are neither sent nor shown as one's own", async () => {
  const { clock, server, outbox, type } = desk({ reader: "7" });
  server.speak = () => null;
  type("a");
  await clock.pass(10);
  const other = new Outbox({ ...outbox, reader: "8" });
  server.received.length = 0;
  server.speak = server.save;
  await other.now();
  assert.deepEqual(other.mine(), []);
  assert.deepEqual(server.received, []);
  assert.equal(entries().length, 1);
});

test("where nobody is signed in nothing is sent", async () => {
  const { clock, server, outbox } = desk({ reader: "" });
  await outbox.now();
  await clock.pass(60000);
  assert.deepEqual(server.received, []);
});

test("what another tab has sent is not put back by this one", async () => {
  const { clock, server, outbox, news, type } = desk();
  server.speak = () => null;
  type("a");
  await clock.pass(10);
  const [entry] = outbox.mine();
  const key = Object.keys(localStorage)[0];
  const oldValue = localStorage.getItem(key);
  localStorage.removeItem(key);
  outbox.heard({ key, oldValue, newValue: null });
  assert.equal(news.at(-1), "a saved");
  outbox.again(entry);
  assert.deepEqual(entries(), []);
});

test("where the browser keeps nothing, adding says so", () => {
  const { outbox, type } = desk();
  localStorage.setItem = () => {
    throw new DOMException("full", "QuotaExceededError");
  };
  assert.equal(type("a"), false);
  assert.deepEqual(outbox.mine(), []);
});

test("an entry that cannot be read harms no other", async () => {
  const { clock, server, type } = desk();
  localStorage.setItem("nearmark-outbox:7:broken", "{");
  type("a");
  await clock.pass(0);
  assert.equal(server.counted.size, 1);
});

test("what is being typed is a reader's own, and can be dropped", () => {
  const { outbox } = desk();
  outbox.keepDraft("entry-1-2", "12");
  assert.equal(outbox.draft("entry-1-2"), "12");
  assert.equal(new Outbox({ ...outbox, reader: "8" }).draft("entry-1-2"), "");
  outbox.dropDraft("entry-1-2");
  assert.equal(outbox.draft("entry-1-2"), "");
});

test("keys are version 4 UUIDs, and differ", () => {
  const keys = Array.from({ length: 200 }, newKey);
  // RFC 9562, 5.4
  const form = /^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;
  assert.ok(keys.every((key) => form.test(key)));
  assert.equal(new Set(keys).size, 200);
});
