/* The arithmetic of a plain pocket calculator: eight digits, from left to right, no powers, no brackets.
   Numbers are whole numbers with a place of the point, so that 0.1 + 0.2 is 0.3.
   What does not fit eight digits is cut off, not rounded, and what is larger shows E, as such calculators do. */
"use strict";
(() => {
  const DIGITS = 8;
  const ZERO = { m: 0n, s: 0 };
  const MOST = 10n ** BigInt(DIGITS);
  const power = (n) => 10n ** BigInt(n);

  const abs = (m) => (m < 0n ? -m : m);

  /* Cut to eight digits; null when the whole part alone has more. A zero before the point is a digit. */
  function fitted({ m, s }) {
    while (s > 0 && m % 10n === 0n) {
      m /= 10n;
      s -= 1;
    }
    const whole = abs(m) / power(s);
    if (whole >= MOST) return null;
    const room = DIGITS - whole.toString().length;
    if (s > room) {
      m /= power(s - room);
      s = room;
    }
    while (s > 0 && m % 10n === 0n) {
      m /= 10n;
      s -= 1;
    }
    return { m, s };
  }

  function worked(a, op, b) {
    const s = Math.max(a.s, b.s);
    const am = a.m * power(s - a.s);
    const bm = b.m * power(s - b.s);
    if (op === "+") return fitted({ m: am + bm, s });
    if (op === "-") return fitted({ m: am - bm, s });
    if (op === "x") return fitted({ m: a.m * b.m, s: a.s + b.s });
    if (b.m === 0n) return null;
    return fitted({ m: (am * power(2 * DIGITS)) / bm, s: 2 * DIGITS });
  }

  function text({ m, s }) {
    const digits = abs(m)
      .toString()
      .padStart(s + 1, "0");
    const point = digits.length - s;
    return (m < 0n ? "-" : "") + digits.slice(0, point) + (s ? "." + digits.slice(point) : "");
  }

  function number(typed) {
    const [whole, part = ""] = typed.split(".");
    return { m: BigInt(whole + part), s: part.length };
  }

  function make() {
    let shown = ZERO; // what stands in the display when nothing is being typed
    let typed = null; // what is being typed, as text
    let first = null; // the number before the operation
    let waits = null; // the operation that waits for its second number
    let fresh = true; // whether the number in the display was entered or worked out since the last operation
    let memory = ZERO;
    let recalled = false; // whether the last key was MR
    let failed = false;

    const value = () => (typed === null ? shown : number(typed));

    function fail() {
      failed = true;
      typed = null;
      first = null;
      waits = null;
      shown = ZERO;
    }
    function put(result) {
      if (result === null) fail();
      else {
        shown = result;
        typed = null;
        fresh = true;
      }
    }

    function digit(d) {
      if (typed === null) {
        typed = d;
        fresh = true;
        return;
      }
      if (typed.replace(".", "").length >= DIGITS) return;
      typed = typed === "0" ? d : typed + d;
    }
    function point() {
      if (typed === null) {
        typed = "0.";
        fresh = true;
        return;
      }
      if (!typed.includes(".") && typed.length < DIGITS) typed += ".";
    }
    function finish() {
      if (waits !== null && fresh) put(worked(first, waits, value()));
      else shown = value();
      if (failed) return;
      typed = null;
      waits = null;
      first = null;
    }
    function operation(op) {
      if (waits !== null && fresh) put(worked(first, waits, value()));
      if (failed) return;
      first = value();
      shown = first;
      typed = null;
      waits = op;
      fresh = false;
    }
    function remember(sign) {
      finish();
      if (failed) return;
      const sum = worked(memory, sign, shown);
      if (sum === null) fail();
      else memory = sum;
    }
    function recall() {
      if (recalled) {
        memory = ZERO;
        return;
      }
      shown = memory;
      typed = null;
      fresh = true;
    }

    function press(key) {
      const again = key === "MR" && recalled;
      if (key === "C" || (failed && key === "CE")) {
        shown = ZERO;
        typed = null;
        first = null;
        waits = null;
        fresh = true;
        failed = false;
      } else if (failed) return;
      else if (key === "CE") {
        shown = ZERO;
        typed = null;
        fresh = true;
      } else if (/^[0-9]$/.test(key)) digit(key);
      else if (key === ".") point();
      else if (key === "=") finish();
      else if (["+", "-", "x", "/"].includes(key)) operation(key);
      else if (key === "M+") remember("+");
      else if (key === "M-") remember("-");
      else if (key === "MR") recall();
      recalled = key === "MR" && !again;
    }

    return {
      press,
      get display() {
        return failed ? "E" : typed === null ? text(shown) : typed;
      },
      get waiting() {
        return waits === null ? "" : waits;
      },
      get remembers() {
        return memory.m !== 0n;
      },
    };
  }

  window.pocketCalculator = make;
})();
