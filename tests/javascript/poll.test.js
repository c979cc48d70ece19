/* The poller: how often it asks, and when it does not. */
import assert from "node:assert/strict";
import test from "node:test";
import { poll } from "../../src/nearmark/site/static/shared/poll.js";
import { openBrowser } from "./fakes.js";

/**
 * A page that polls every two seconds, and the moments at which it asked.
 *
 * @param {Partial<Parameters<typeof poll>[1]>} [options]
 */
function page(options = {}) {
  const browser = openBrowser(() => Promise.reject(new Error("not used here")));
  /** @type {number[]} */
  const asked = [];
  const server = { isLost: false, isOver: false };
  const now = poll(
    async () => {
      asked.push(browser.clock.now);
      if (server.isLost) throw new TypeError("no link");
      return !server.isOver;
    },
    { everyMs: 2000, ...options },
  );
  return { ...browser, asked, server, now };
}

test("it asks at intervals, the first time after one", async () => {
  const { clock, asked } = page();
  await clock.pass(6500);
  assert.deepEqual(asked, [2000, 4000, 6000]);
});

test("it asks at once where it is told to, and then at intervals", async () => {
  const { clock, asked } = page({ firstMs: 0 });
  await clock.pass(4500);
  assert.deepEqual(asked, [0, 2000, 4000]);
});

test("it does not ask while the page is hidden, and at once when somebody looks", async () => {
  const { clock, asked, hide } = page();
  await clock.pass(2500);
  hide(true);
  await clock.pass(60000);
  assert.deepEqual(asked, [2000]);
  hide(false);
  await clock.pass(2500);
  assert.deepEqual(asked, [2000, 62500, 64500]);
});

test("it asks in the background where that is wanted", async () => {
  const { clock, asked, hide } = page({ whileHidden: true });
  hide(true);
  await clock.pass(100);
  const before = asked.length;
  await clock.pass(6000);
  assert.equal(asked.length - before, 3);
});

test("it asks later and later while the link is lost, but not ever more rarely", async () => {
  const { clock, asked, server } = page();
  server.isLost = true;
  await clock.pass(70000);
  const waits = asked.slice(1).map((at, k) => at - asked[k]);
  assert.deepEqual(waits, [4000, 8000, 15000, 15000, 15000]);
});

test("it asks at once when the link is back, and as often as before", async () => {
  const { clock, asked, server, window } = page();
  server.isLost = true;
  await clock.pass(15000);
  asked.length = 0;
  server.isLost = false;
  window.dispatchEvent(new Event("online"));
  await clock.pass(4500);
  assert.deepEqual(asked, [15000, 17000, 19000]);
});

test("it keeps to a longest wait of its own", async () => {
  const { clock, asked, server } = page({ maxWaitMs: 2000 });
  server.isLost = true;
  await clock.pass(8500);
  assert.deepEqual(asked, [2000, 4000, 6000, 8000]);
});

test("it stops when the answer says so, whatever happens later", async () => {
  const { clock, asked, server, window, now } = page();
  server.isOver = true;
  await clock.pass(10000);
  window.dispatchEvent(new Event("online"));
  now();
  await clock.pass(10000);
  assert.deepEqual(asked, [2000]);
});

test("it never asks twice at a time, and gives up an answer that does not come", async () => {
  const { clock, window } = openBrowser(() => Promise.reject(new Error("not used here")));
  let nOpen = 0;
  let nAsked = 0;
  poll(
    (signal) => {
      nAsked += 1;
      nOpen += 1;
      assert.equal(nOpen, 1);
      return new Promise((_, lose) => {
        signal.addEventListener("abort", () => {
          nOpen -= 1;
          lose(new Error("no answer"));
        });
      });
    },
    { everyMs: 1000 },
  );
  await clock.pass(5000);
  window.dispatchEvent(new Event("online"));
  await clock.pass(5000);
  assert.equal(nAsked, 1);
  await clock.pass(10000);
  assert.equal(nAsked, 2);
});
