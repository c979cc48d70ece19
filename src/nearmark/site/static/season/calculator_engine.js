/* The arithmetic of a plain pocket calculator: eight digits, from left to right, no powers, no
   brackets. Numbers are whole numbers with a place of the point, so that 0.1 + 0.2 is 0.3. What
   does not fit eight digits is cut off, not rounded, and what is larger shows E, as such
   calculators do. */

/** @typedef {{ m: bigint, s: number }} Decimal m divided by ten to the power of s */

const DIGITS = 8;
/** @type {Decimal} */
const ZERO = { m: 0n, s: 0 };
const TOO_LARGE = 10n ** BigInt(DIGITS);

/** @param {number} n */
const power = (n) => 10n ** BigInt(n);

/** @param {bigint} m */
const abs = (m) => (m < 0n ? -m : m);

/**
 * @param {Decimal} number
 * @returns {Decimal}
 */
function withoutZeros({ m, s }) {
  while (s > 0 && m % 10n === 0n) {
    m /= 10n;
    s -= 1;
  }
  return { m, s };
}

/**
 * Cut to eight digits; null when the whole part alone has more. A zero before the point is a digit.
 *
 * @param {Decimal} number
 */
function fitted(number) {
  const { m, s } = withoutZeros(number);
  const whole = abs(m) / power(s);
  if (whole >= TOO_LARGE) return null;
  const room = DIGITS - whole.toString().length;
  return s > room ? withoutZeros({ m: m / power(s - room), s: room }) : { m, s };
}

/**
 * @param {Decimal} a
 * @param {string} operation
 * @param {Decimal} b
 */
function computed(a, operation, b) {
  const s = Math.max(a.s, b.s);
  const am = a.m * power(s - a.s);
  const bm = b.m * power(s - b.s);
  if (operation === "+") return fitted({ m: am + bm, s });
  if (operation === "-") return fitted({ m: am - bm, s });
  if (operation === "x") return fitted({ m: a.m * b.m, s: a.s + b.s });
  if (b.m === 0n) return null;
  return fitted({ m: (am * power(2 * DIGITS)) / bm, s: 2 * DIGITS });
}

/** @param {Decimal} number */
function text({ m, s }) {
  const digits = abs(m)
    .toString()
    .padStart(s + 1, "0");
  const point = digits.length - s;
  return (m < 0n ? "-" : "") + digits.slice(0, point) + (s ? "." + digits.slice(point) : "");
}

/**
 * @param {string} typed
 * @returns {Decimal}
 */
function number(typed) {
  const [whole, part = ""] = typed.split(".");
  return { m: BigInt(whole + part), s: part.length };
}

export class PocketCalculator {
  /** What is in the display when nothing is being typed. */
  _shown = ZERO;
  /** @type {string | null} what is being typed */
  _typed = null;
  /** @type {{ first: Decimal, operation: string } | null} what waits for its second number */
  _begun = null;
  /** Whether the number in the display was entered or computed since the last operation. */
  _isFresh = true;
  _memory = ZERO;
  _isRecalled = false;
  _hasFailed = false;

  get display() {
    if (this._hasFailed) return "E";
    return this._typed ?? text(this._shown);
  }

  /** The operation that waits for its second number, or nothing. */
  get waiting() {
    return this._begun?.operation ?? "";
  }

  get remembers() {
    return this._memory.m !== 0n;
  }

  /** @param {string} key the sign on the key */
  press(key) {
    const isSecondRecall = key === "MR" && this._isRecalled;
    if (key === "C" || (this._hasFailed && key === "CE")) this._clear();
    else if (this._hasFailed) return;
    else if (key === "CE") this._show(ZERO);
    else if (/^[0-9]$/.test(key)) this._digit(key);
    else if (key === ".") this._point();
    else if (key === "=") this._finish();
    else if (["+", "-", "x", "/"].includes(key)) this._begin(key);
    else if (key === "M+" || key === "M-") this._remember(key[1]);
    else if (isSecondRecall) this._memory = ZERO;
    else if (key === "MR") this._show(this._memory);
    this._isRecalled = key === "MR" && !isSecondRecall;
  }

  get _value() {
    return this._typed === null ? this._shown : number(this._typed);
  }

  /** @param {Decimal} result */
  _show(result) {
    this._shown = result;
    this._typed = null;
    this._isFresh = true;
  }

  _clear() {
    this._begun = null;
    this._hasFailed = false;
    this._show(ZERO);
  }

  _fail() {
    this._clear();
    this._hasFailed = true;
  }

  /** @param {string} digit */
  _digit(digit) {
    this._isFresh = true;
    if (this._typed === null || this._typed === "0") this._typed = digit;
    else if (this._typed.replace(".", "").length < DIGITS) this._typed += digit;
  }

  _point() {
    this._isFresh = true;
    if (this._typed === null) this._typed = "0.";
    else if (!this._typed.includes(".") && this._typed.length < DIGITS) this._typed += ".";
  }

  /** Do the operation that waits, if its second number is there. */
  _compute() {
    if (!this._begun || !this._isFresh) return;
    const result = computed(this._begun.first, this._begun.operation, this._value);
    if (result === null) this._fail();
    else this._show(result);
  }

  _finish() {
    this._compute();
    if (this._hasFailed) return;
    this._shown = this._value;
    this._typed = null;
    this._begun = null;
  }

  /** @param {string} operation */
  _begin(operation) {
    this._compute();
    if (this._hasFailed) return;
    this._shown = this._value;
    this._typed = null;
    this._begun = { first: this._shown, operation };
    this._isFresh = false;
  }

  /** @param {string} sign */
  _remember(sign) {
    this._finish();
    if (this._hasFailed) return;
    const sum = computed(this._memory, sign, this._shown);
    if (sum === null) this._fail();
    else this._memory = sum;
  }
}
