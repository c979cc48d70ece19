/* The sound of the hall clock: some beeps of a tone, after somebody has turned it on. */

const PITCH_HZ = 660;
const EVERY_S = 0.6;
const LONG_S = 0.5;
const RISE_S = 0.02;
const FALL_S = 0.45;
const LOUDNESS = 0.4;

export class Horn {
  constructor() {
    /** @type {AudioContext | null} */
    this.context = null;
  }

  get isThere() {
    return "AudioContext" in window;
  }

  get isOn() {
    return this.context !== null;
  }

  /** @param {boolean} isOn */
  turn(isOn) {
    this.context?.close();
    this.context = isOn ? new AudioContext() : null;
    this.sound(1);
  }

  /** @param {number} times */
  sound(times) {
    if (!this.context) return;
    for (let n = 0; n < times; n += 1)
      this.beep(this.context, this.context.currentTime + n * EVERY_S);
  }

  /**
   * @param {AudioContext} context
   * @param {number} at
   */
  beep(context, at) {
    const tone = context.createOscillator();
    const loudness = context.createGain();
    tone.frequency.value = PITCH_HZ;
    loudness.gain.setValueAtTime(0, at);
    loudness.gain.linearRampToValueAtTime(LOUDNESS, at + RISE_S);
    loudness.gain.linearRampToValueAtTime(0, at + FALL_S);
    tone.connect(loudness).connect(context.destination);
    tone.start(at);
    tone.stop(at + LONG_S);
  }
}
