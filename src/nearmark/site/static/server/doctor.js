/* Compares the clock of this device with the computer's. The way of the page over the network is in
   the difference, so that a second or two says nothing. */
"use strict";
(() => {
  const MAX_DIFFERENCE_S = 30;
  const found = document.getElementById("device-clock");
  const ahead = Math.round(Date.now() / 1000 - Number(found.dataset.now));
  const isGood = Math.abs(ahead) <= MAX_DIFFERENCE_S;
  found.textContent = isGood
    ? "Its clock agrees with the computer's within half a minute."
    : `Its clock is ${Math.abs(ahead)} seconds ${ahead > 0 ? "ahead of" : "behind"} the computer's.`;
  document.getElementById("device-state").textContent = isGood ? "good" : "look";
  if (!isGood)
    document.getElementById("device-mend").textContent = "Set the clock of this device right.";
})();
