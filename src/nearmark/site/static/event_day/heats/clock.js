/* The clock: the server says how long a heat has run, this counts between two answers.
   A reload or a sleep loses nothing, because nothing is kept here. */
"use strict";
(() => {
  const root = document.querySelector("[data-clock]");
  if (!root) return;
  const part = (name) => document.querySelector(`[data-part="${name}"]`);
  const EVERY_MS = 3000;
  const PATIENCE_MS = 8000;
  const big = document.body.classList.contains("clock");
  let told = JSON.parse(root.dataset.first);
  let base = stamp(told.elapsed_ms);
  let answered = performance.now();
  let asking = false;
  let sound = null;
  let shown = root.dataset.state;

  // Two local clocks: one stands still in a sleep, the other can be set back. The later one is right.
  function stamp(elapsed_ms) {
    return { elapsed_ms, ticks: performance.now(), wall: Date.now() };
  }
  const elapsed = () =>
    told.is_paused
      ? base.elapsed_ms
      : base.elapsed_ms + Math.max(performance.now() - base.ticks, Date.now() - base.wall);

  function look() {
    if (!told.heat) return { state: "not started", left: 0 };
    if (told.is_set_back) return { state: "set back", left: told.minutes * 60000 };
    const full = told.minutes * 60000;
    const left = told.is_stopped ? 0 : Math.min(full, Math.max(0, full - elapsed()));
    if (left === 0) return { state: "over", left };
    if (told.is_paused) return { state: "paused", left };
    return { state: left <= told.last_minutes * 60000 ? "last minutes" : "running", left };
  }

  function show() {
    const { state, left } = look();
    const seconds = Math.ceil(left / 1000);
    const text = `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
    const place = part("left");
    if (place.textContent !== text) place.textContent = text;
    const waits = performance.now() - answered > PATIENCE_MS;
    part("link").hidden = !waits;
    if (part("ends")) part("ends").textContent = told.ends;
    if (state !== shown) change(state);
    if (big) names(state);
  }

  function change(state) {
    const was = shown;
    shown = state;
    root.dataset.state = state;
    if (state === "last minutes" && was === "running") beep(1);
    if (state === "over" && was !== "not started") beep(3);
    if (state === "paused" || (was === "paused" && state !== "over")) beep(2);
    if (
      ([state, was].includes("over") || [state, was].includes("paused")) &&
      "reload" in root.dataset
    )
      location.reload();
  }

  function names(state) {
    const heat = told.heat || "not started";
    part("heat").textContent = heat[0].toUpperCase() + heat.slice(1);
    part("coming").hidden = !told.next_heat || !["not started", "over"].includes(state);
    part("last").textContent = `${told.last_minutes} minute${told.last_minutes === 1 ? "" : "s"}`;
    part("until").hidden = !told.ends;
    part("next-heat").textContent = told.next_heat;
    part("next-codes").textContent = told.next_codes.join("  ");
  }

  async function ask() {
    if (asking) return;
    asking = true;
    const sent = performance.now();
    try {
      const answer = await fetch(root.dataset.now, {
        cache: "no-store",
        signal: AbortSignal.timeout(4000),
      });
      if (!answer.ok) throw new Error(String(answer.status));
      const news = await answer.json();
      const way_ms = (performance.now() - sent) / 2;
      const same =
        news.heat === told.heat &&
        news.minutes === told.minutes &&
        news.is_paused === told.is_paused;
      const off = news.elapsed_ms + way_ms - elapsed();
      // A slow answer must not make the seconds jump.
      if (!same || Math.abs(off) > 250 + way_ms) base = stamp(news.elapsed_ms + way_ms);
      told = news;
      answered = performance.now();
    } catch {
      /* no link: the count goes on, and the page says so */
    } finally {
      asking = false;
      show();
    }
  }

  function beep(times) {
    if (!sound) return;
    for (let n = 0; n < times; n += 1) {
      const tone = sound.createOscillator();
      const loud = sound.createGain();
      const at = sound.currentTime + n * 0.6;
      tone.frequency.value = 660;
      loud.gain.setValueAtTime(0, at);
      loud.gain.linearRampToValueAtTime(0.4, at + 0.02);
      loud.gain.linearRampToValueAtTime(0, at + 0.45);
      tone.connect(loud).connect(sound.destination);
      tone.start(at);
      tone.stop(at + 0.5);
    }
  }

  async function stay_awake() {
    // Only where the page is served by https or from this computer; elsewhere set it by hand.
    try {
      await navigator.wakeLock?.request("screen");
    } catch {
      /* not granted */
    }
  }

  const button = part("sound");
  if (button && window.AudioContext) {
    button.hidden = false;
    button.addEventListener("click", () => {
      if (sound) {
        sound.close();
        sound = null;
      } else {
        sound = new AudioContext();
        beep(1);
      }
      button.textContent = sound ? "Sound: on" : "Sound: off";
      button.setAttribute("aria-pressed", String(Boolean(sound)));
    });
  }
  const full = part("full");
  if (full && document.documentElement.requestFullscreen) {
    full.hidden = false;
    full.addEventListener("click", () => {
      if (document.fullscreenElement) document.exitFullscreen();
      else document.documentElement.requestFullscreen();
    });
  }

  document.addEventListener("visibilitychange", () => {
    if (!document.hidden) {
      ask();
      if (big) stay_awake();
    }
  });
  window.addEventListener("online", ask);
  window.addEventListener("pageshow", ask);
  setInterval(show, 200);
  setInterval(ask, EVERY_MS);
  if (big) stay_awake();
  show();
  ask();
})();
