/* Where the eye may be: on a circle about the jar, never below the table, never over the brim and
   down. */

const MIN_EYE_CM = 1.2;
const MAX_HEAD_DEG = 72;
const MIN_REACH = 0.42;
const MAX_REACH = 1.35;
const ABOVE_DEG = 84;
/** Share of half the picture that lies between its middle and the brim, at most. */
const BRIM_SHARE = 0.72;

/** How far the eye is and what has to be in sight, in cm.
 *
 * @typedef {object} Room
 * @property {number} distance
 * @property {number} middleX between jar and cup
 * @property {number} height of the jar
 * @property {number} fill height of the surface
 * @property {number} above distance from which the surface fills the picture
 * @property {number} slope half of the picture, a cm away from the eye
 */

/** @typedef {[number, number, number]} Point */

/** Steps of the hand: turn and head in degrees, reach as a factor.
 *
 * @typedef {{ turn?: number, head?: number, reach?: number }} Step
 */

/**
 * @param {number} value
 * @param {number} low
 * @param {number} high
 */
const clamp = (value, low, high) => Math.min(high, Math.max(low, value));

export class Stance {
  turn = 20;
  head = 22;
  reach = 1;
  /** Whether only the surface is looked at, from above. */
  isAbove = false;

  /** @param {DOMStringMap} [said] what the page says of where the eye is */
  constructor(said = {}) {
    this.said = said;
  }

  /** @param {Step} step */
  move({ turn = 0, head = 0, reach = 1 }) {
    this.turn = (this.turn + turn) % 360;
    if (head || reach !== 1) this.isAbove = false;
    this.head = clamp(this.head + head, 0, MAX_HEAD_DEG);
    this.reach = clamp(this.reach * reach, MIN_REACH, MAX_REACH);
  }

  /**
   * Eye and what it looks at, in cm, y upwards.
   *
   * @param {Room} room
   * @returns {{ at: Point, to: Point }}
   */
  eye({ distance, middleX, height, fill, above, slope }) {
    if (this.isAbove) {
      const down = (ABOVE_DEG * Math.PI) / 180;
      return {
        at: [0, fill + above * Math.sin(down), above * Math.cos(down)],
        to: [0, fill, 0],
      };
    }
    const head = (this.head * Math.PI) / 180;
    // From above a tall jar comes nearer to the eye: step back by as much.
    const far = (distance + 0.55 * height * Math.sin(head)) * this.reach;
    const aside = middleX * clamp((this.reach - MIN_REACH) / (1 - MIN_REACH), 0, 1);
    const up = Math.max(MIN_EYE_CM, MIN_EYE_CM + far * Math.sin(head));
    const middle = height * (0.44 + (0.08 * this.head) / MAX_HEAD_DEG);
    // Closer, the picture holds less than the jar: the brim stays in it, and the foot goes.
    const low = height - BRIM_SHARE * far * slope;
    return { at: [aside, up, far * Math.cos(head)], to: [aside, Math.max(middle, low), 0] };
  }

  get words() {
    const { saySurface = "", sayTable = "", sayDown = "", sayHead = "" } = this.said;
    if (this.isAbove) return saySurface;
    if (this.head < 1) return sayTable;
    if (this.head > MAX_HEAD_DEG - 1) return sayDown;
    return sayHead.replace("{degrees}", String(Math.round(this.head)));
  }
}
