/* The pocket calculator, key by key. */
import assert from "node:assert/strict";
import test from "node:test";
import { PocketCalculator } from "../../src/nearmark/site/static/season/calculator_engine.js";

/* Keys and what an eight-digit calculator that works from left to right shows (common practice, no
   source); worked by hand. */
/** @type {Record<string, string>} */
const SUMS = {
  "2 + 3 x 4 =": "20",
  "0 . 1 + 0 . 2 =": "0.3",
  "1 2 . 4 x 8 x 6 . 5 =": "644.8",
  "5 2 x 9 =": "468",
  "2 / 3 =": "0.6666666", // cut off, not rounded; the zero is a digit
  "1 / 3 x 3 =": "0.9999999",
  "9 9 9 9 9 9 9 9 + 1 =": "E",
  "9 9 9 9 9 9 9 x 9 9 =": "E",
  "5 / 0 =": "E",
  "5 / 0 = 7 + 1 =": "E",
  "5 / 0 = C 7 + 1 =": "8",
  "1 2 3 4 5 6 7 8 9": "12345678",
  "1 . 2 . 3": "1.23",
  ". 5 + . 5 =": "1",
  "0 0 7": "7",
  "3 - 5 =": "-2",
  "3 - 5 = x 4 =": "-8",
  "6 + - 2 =": "4",
  "6 x =": "6",
  "8 + 5 CE 2 =": "10",
  "8 + 5 C 2 =": "2",
  "7 = = =": "7",
  "2 x 3 = 4": "4",
  "6 M+ 4 M+ MR": "10",
  "6 M+ 1 M- C 2 x MR =": "10",
  "6 M+ MR MR C MR": "0",
  "1 0 0 0 0 0 0 0 / 3 =": "3333333.3",
  "0 . 0 0 0 0 0 0 1 / 2 =": "0",
  "5 - 5 =": "0",
};

for (const [keys, shown] of Object.entries(SUMS)) {
  test(`${keys} shows ${shown}`, () => {
    const machine = new PocketCalculator();
    for (const key of keys.split(" ")) machine.press(key);
    assert.equal(machine.display, shown);
  });
}
