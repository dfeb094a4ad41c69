// Mouse, finger and keys on the view itself.

/** @typedef {import("./show.js").Viewer} Viewer */

const CLICK_PX = 6; // moved less than this, it was no drag

/** @param {Viewer} viewer @param {HTMLCanvasElement} canvas @param {HTMLElement} cross */
export function bindKeys(viewer, canvas, cross) {
  let [downX, downY, fingers] = [0, 0, 0];
  canvas.addEventListener("pointerdown", (event) => {
    fingers = event.isPrimary ? 1 : fingers + 1;
    if (event.isPrimary) [downX, downY] = [event.clientX, event.clientY];
    cross.hidden = true;
  });
  canvas.addEventListener("pointerup", (event) => {
    const moved = Math.hypot(event.clientX - downX, event.clientY - downY);
    if (!event.isPrimary || fingers > 1 || event.button !== 0 || moved > CLICK_PX) return;
    const at = canvas.getBoundingClientRect();
    viewer.touch(event.clientX - at.left, event.clientY - at.top);
  });
  canvas.addEventListener("focus", () => {
    cross.hidden = !canvas.matches(":focus-visible");
  });
  canvas.addEventListener("blur", () => {
    cross.hidden = true;
  });
  canvas.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey || !press(viewer, canvas, event)) return;
    cross.hidden = false;
    event.preventDefault();
  });
}

/** Whether the key means something here. @param {Viewer} viewer @param {HTMLCanvasElement} canvas @param {KeyboardEvent} event */
function press(viewer, canvas, { key, shiftKey }) {
  const { looking } = viewer;
  const go = shiftKey ? looking.move : looking.turn;
  /** @type {Record<string, () => void>} */
  const does = {
    ArrowLeft: () => go(-1, 0),
    ArrowRight: () => go(1, 0),
    ArrowUp: () => go(0, 1),
    ArrowDown: () => go(0, -1),
    "+": () => looking.nearer(1),
    "=": () => looking.nearer(1),
    "-": () => looking.nearer(-1),
    Home: () => viewer.look("first"),
    Enter: () => viewer.touch(canvas.clientWidth / 2, canvas.clientHeight / 2),
    Escape: () => viewer.clear(),
  };
  does[key]?.();
  return key in does;
}
