/* Minutes and seconds left in a mock contest, counted on from what the server said; at the end, and while it has
   not begun, the page asks again. A local clock that is set back gives no time: the later of two counts. */
"use strict";
(() => {
  const begun = { ticks: performance.now(), wall: Date.now() };
  const gone = () => Math.max(performance.now() - begun.ticks, Date.now() - begun.wall) / 1000;
  const bases = new WeakMap();
  function show() {
    for (const place of document.querySelectorAll("[data-seconds]")) {
      if (!bases.has(place)) bases.set(place, gone());
      const left = Math.max(
        0,
        Math.ceil(Number(place.dataset.seconds) - (gone() - bases.get(place))),
      );
      const text = `${Math.floor(left / 60)}:${String(left % 60).padStart(2, "0")}`;
      if (place.textContent !== text) place.textContent = text;
      if (left === 0 && Number(place.dataset.seconds) > 0) {
        place.dataset.seconds = "0";
        if (!document.querySelector("form.answering")) setTimeout(() => location.reload(), 1000);
      }
    }
  }
  if (document.querySelector("[data-waits]")) setTimeout(() => location.reload(), 4000);
  setInterval(show, 250);
  show();
})();
