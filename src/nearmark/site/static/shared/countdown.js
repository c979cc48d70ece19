/* The time that is left, as every clock of the site shows it. */

/** @param {number} seconds whole, 0 or more */
export function countdownText(seconds) {
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
}
