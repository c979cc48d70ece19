/* Where the eye may be: on a circle about the jar, never below the table, never over the brim and down. */

export const EYE_LOW_CM = 1.2;
export const HEAD_MOST = 72;
export const NEAREST = 0.42;
export const FARTHEST = 1.35;

const clamp = (value, low, high) => Math.min(high, Math.max(low, value));

export class Stance {
  constructor() {
    this.turn = 20;
    this.head = 22;
    this.reach = 1;
  }

  move({ turn = 0, head = 0, reach = 1 }) {
    this.turn = (this.turn + turn) % 360;
    this.head = clamp(this.head + head, 0, HEAD_MOST);
    this.reach = clamp(this.reach * reach, NEAREST, FARTHEST);
  }

  /* Eye and what it looks at, in cm, y upwards; `room` is half of what has to be in sight. */
  eye({ distance, middleX, height }) {
    const head = (this.head * Math.PI) / 180;
    // From above a tall jar comes nearer to the eye: step back by as much.
    const far = (distance + 0.55 * height * Math.sin(head)) * this.reach;
    const aside = middleX * clamp((this.reach - NEAREST) / (1 - NEAREST), 0, 1);
    return {
      at: [aside, Math.max(EYE_LOW_CM, EYE_LOW_CM + far * Math.sin(head)), far * Math.cos(head)],
      to: [aside, height * (0.44 + (0.08 * this.head) / HEAD_MOST), 0],
    };
  }

  get words() {
    if (this.head < 1) return "Your head is at the height of the table";
    return this.head > HEAD_MOST - 1
      ? "You look down into the jar"
      : `Head at ${Math.round(this.head)} degrees`;
  }
}
