// The controls beside or below the view.

/** @typedef {import("./show.js").Viewer} Viewer */
/** @typedef {import("./types.js").Part} Part */
/** @typedef {import("./types.js").CutWay} CutWay */
/** @typedef {import("./types.js").Mode} Mode */
/** @typedef {import("./types.js").ViewName} ViewName */

const BEAT_MS = 900; // between two courses as they are laid by themselves

/** @template {HTMLElement} T @param {string} query @returns {T[]} */
const every = (query) => [...document.querySelectorAll(query)].map((found) => /** @type {T} */ (found));

/** @template {HTMLElement} T @param {string} id @returns {T} */
const one = (id) => /** @type {T} */ (document.getElementById(id));

/** @param {Viewer} viewer @param {string} name of a saved picture */
export function bindPanel(viewer, name) {
  bindTabs();
  bindViews(viewer);
  bindLaying(viewer);
  bindApart(viewer);
  bindCut(viewer);
  bindShown(viewer);
  bindModes(viewer);
  one("save").addEventListener("click", () => save(viewer, name));
  one("print").addEventListener("click", () => window.print());
  viewer.listen(() => say(viewer));
  say(viewer);
}

/** On a phone one group of controls is open at a time. */
function bindTabs() {
  const tabs = /** @type {HTMLButtonElement[]} */ (every("#tabs button"));
  for (const tab of tabs) {
    tab.addEventListener("click", () => {
      for (const other of tabs) {
        const open = other === tab;
        other.setAttribute("aria-expanded", String(open));
        one(other.getAttribute("aria-controls") ?? "").classList.toggle("open", open);
      }
    });
  }
}

/** @param {Viewer} viewer */
function bindViews(viewer) {
  for (const button of every("[data-view]")) {
    button.addEventListener("click", () => viewer.look(/** @type {ViewName} */ (button.dataset.view)));
  }
}

/** @param {Viewer} viewer */
function bindLaying(viewer) {
  const slider = /** @type {HTMLInputElement} */ (one("step"));
  const last = viewer.steps.length - 1;
  const play = one("play");
  slider.max = String(last);
  slider.value = slider.max;
  let beat = 0;
  const stop = () => {
    clearInterval(beat);
    beat = 0;
    play.textContent = "Lay it";
  };
  const name = () => {
    const text = viewer.steps[Number(slider.value)];
    slider.setAttribute("aria-valuetext", text);
    one("step-name").textContent = text;
  };
  /** @param {number} step */
  const go = (step) => {
    slider.value = String(step);
    name();
    viewer.setStep(step);
  };
  slider.addEventListener("input", () => {
    stop();
    go(Number(slider.value));
  });
  /** @type {[string, number][]} */
  const buttons = [["fewer", -1], ["more", 1]];
  for (const [id, by] of buttons) {
    one(id).addEventListener("click", () => {
      stop();
      go(Math.max(0, Math.min(last, Number(slider.value) + by)));
    });
  }
  play.addEventListener("click", () => {
    if (beat) return stop();
    play.textContent = "Stop";
    go(0);
    beat = window.setInterval(() => {
      const next = Number(slider.value) + 1;
      if (next <= last) go(next);
      if (next >= last) stop();
    }, BEAT_MS);
  });
  name();
}

/** @param {Viewer} viewer */
function bindApart(viewer) {
  const slider = /** @type {HTMLInputElement} */ (one("apart"));
  slider.addEventListener("input", () => viewer.setApart(Number(slider.value) / 100));
}

/** @param {Viewer} viewer */
function bindCut(viewer) {
  const slider = /** @type {HTMLInputElement} */ (one("cut-at"));
  const ways = /** @type {HTMLInputElement[]} */ (every("[name=cut]"));
  const go = () => {
    const way = /** @type {CutWay} */ (ways.find((input) => input.checked)?.value ?? "off");
    slider.disabled = way === "off";
    viewer.setCut(way, Number(slider.value) / 1000);
  };
  for (const input of [...ways, slider]) input.addEventListener("input", go);
}

/** @param {Viewer} viewer */
function bindShown(viewer) {
  for (const input of /** @type {HTMLInputElement[]} */ (every("[data-part]"))) {
    const part = /** @type {Part} */ (input.dataset.part);
    const row = input.closest("label");
    if (row) row.hidden = !viewer.has[part];
    input.addEventListener("input", () => viewer.setShown(part, input.checked));
  }
}

/** @param {Viewer} viewer */
function bindModes(viewer) {
  for (const input of /** @type {HTMLInputElement[]} */ (every("[name=mode]"))) {
    input.addEventListener("input", () => viewer.setMode(/** @type {Mode} */ (input.value)));
  }
  one("previous").addEventListener("click", () => viewer.pickNext(-1));
  one("next").addEventListener("click", () => viewer.pickNext(1));
}

/** Say what was picked or measured. @param {Viewer} viewer */
function say(viewer) {
  const said = one("said");
  const text = sentence(viewer.state());
  if (said.textContent !== text) said.textContent = text;
  one("pieces").hidden = viewer.state().mode !== "pick";
}

/** @param {ReturnType<Viewer["state"]>} state */
function sentence({ mode, picked, measured, distance_mm }) {
  if (mode === "measure") {
    if (distance_mm === null) {
      return measured.length === 0 ? "Measure: choose the first point." : "Measure: choose the second point.";
    }
    const [a, b] = measured;
    const level = Math.hypot(b[0] - a[0], b[1] - a[1]);
    return `${Math.round(distance_mm)} mm apart: ${Math.round(level)} level, ${Math.round(Math.abs(b[2] - a[2]))} upright.`;
  }
  if (!picked) return "Touch a piece to read what it is.";
  const whole = picked.kind === "block" || picked.kind === "coping" ? (picked.cut ? "cut" : "whole") : "";
  const mass = picked.mass_kg === null ? "" : `${picked.mass_kg} kg`;
  const about = [picked.name, picked.course, whole, picked.size, mass].filter(Boolean);
  return `${about.join(", ")} (${picked.id})`;
}

/** @param {Viewer} viewer @param {string} name */
async function save(viewer, name) {
  const blob = await viewer.picture();
  if (!blob) return;
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = `${name}.png`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10_000);
}
