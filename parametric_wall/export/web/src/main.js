// The page: finds its data, shows the job, and lets every control do what it says.
import { bindKeys } from "./keys.js";
import { bindPanel } from "./panel.js";
import { show } from "./show.js";

/** @param {string} id */
const need = (id) => {
  const found = document.getElementById(id);
  if (!found) throw new Error(`the page has no ${id}`);
  return found;
};

function start() {
  const stage = need("stage");
  const data = JSON.parse(need("scene").textContent ?? "");
  const { classList } = document.body;
  const stillOnly = () => {
    classList.remove("live");
    classList.add("still-only");
    need("no-view").hidden = false;
  };
  let viewer;
  classList.add("live");
  try {
    viewer = show(data, need("view"));
  } catch {
    stillOnly(); // No WebGL: the still picture and the tables stay.
    return;
  }
  // Wanted on paper only: not before the wall is drawn.
  setTimeout(() => need("still").setAttribute("loading", "eager"), 500);
  const canvas = viewer.canvas;
  canvas.tabIndex = 0;
  canvas.id = "canvas";
  canvas.setAttribute("role", "application");
  canvas.setAttribute("aria-label", stage.dataset.label ?? "");
  canvas.setAttribute("aria-describedby", "how-to");
  canvas.addEventListener("webglcontextlost", stillOnly);
  bindPanel(viewer, stage.dataset.name ?? "wall");
  bindKeys(viewer, canvas, need("cross"));
  const page = Object.freeze({ state: () => Object.freeze(viewer.state()) });
  Object.defineProperty(window, "wallPage", { value: page });
}

start();
