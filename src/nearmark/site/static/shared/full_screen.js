/* A button that fills the screen with the page and back, shown where the browser can do it. */

/** @param {HTMLElement} button */
export function offerFullScreen(button) {
  if (!document.fullscreenEnabled) return;
  button.hidden = false;
  button.addEventListener("click", () => {
    if (document.fullscreenElement) document.exitFullscreen();
    else document.documentElement.requestFullscreen();
  });
}
