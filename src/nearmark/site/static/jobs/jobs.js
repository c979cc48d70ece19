/* How far the long work is, asked once a second while something is open; without this script the page is loaded again. */
"use strict";
(() => {
  const list = document.getElementById("jobs");
  if (!list) return;
  const lines = [...list.querySelectorAll("[data-job]")];
  const isOpen = (line) => ["waiting", "running"].includes(line.dataset.is);

  async function look() {
    let states;
    try {
      const answer = await fetch(list.dataset.state, { headers: { Accept: "application/json" } });
      if (!answer.ok) throw new Error(answer.status);
      states = await answer.json();
    } catch {
      setTimeout(look, 5000);
      return;
    }
    for (const line of lines.filter(isOpen)) {
      const now = states[line.dataset.job];
      if (!now || !["waiting", "running"].includes(now.state)) {
        location.reload();
        return;
      }
      if (now.all) {
        Object.assign(line.querySelector("progress"), { max: now.all, value: now.done });
        line.querySelector("label").textContent = `${now.done} of ${now.all}`;
      }
      if (now.state !== line.dataset.is) {
        line.dataset.is = now.state;
        line.querySelector(".verdict").textContent = now.state;
        document.getElementById("jobs-told").textContent =
          `${line.querySelector("strong").textContent}: ${now.state}`;
      }
    }
    setTimeout(look, 1000);
  }
  if (lines.some(isOpen)) look();
})();
