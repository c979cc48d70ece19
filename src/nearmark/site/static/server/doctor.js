/* Compares the clock of this device with the computer's. The way of the page over the network is in
   the difference, so that a second or two says nothing. */
import { need } from "../shared/dom.js";

const MAX_DIFFERENCE_S = 30;

const clock = need("#device-clock");
const ahead = Math.round(Date.now() / 1000 - Number(clock.dataset.now));
const isGood = Math.abs(ahead) <= MAX_DIFFERENCE_S;
const side = ahead > 0 ? "ahead of" : "behind";
clock.textContent = isGood
  ? "Its clock agrees with the computer's within half a minute."
  : `Its clock is ${Math.abs(ahead)} seconds ${side} the computer's.`;
need("#device-state").textContent = isGood ? "good" : "look";
if (!isGood) need("#device-mend").textContent = "Set the clock of this device right.";
