// Where one looks from: fixed views, turning, moving and coming nearer by hand and by keys.
import { Box3, MOUSE, PerspectiveCamera, Spherical, TOUCH, Vector3 } from "three";
import { OrbitControls } from "three/addons/controls/OrbitControls.js";

/** @typedef {import("./types.js").ViewName} ViewName */

const LENS_DEG = 26;
const TURN_RAD = Math.PI / 24;
const NEARER = 0.88;
const GLIDE_MS = 420;
const NEAREST_MM = 400;

/** From where each view looks. @type {Record<ViewName, [number, number, number]>} */
const FROM = {
  first: [0.62, -1, 0.52],
  front: [0, -1, 0.1],
  corner: [-0.9, -0.8, 0.42],
  above: [0, -0.002, 1],
};

/**
 * @param {HTMLElement} canvas
 * @param {Vector3[]} points what is to be seen
 * @param {() => void} changed
 */
export function lookAt(canvas, points, changed) {
  const camera = new PerspectiveCamera(LENS_DEG, 1, 10, 1e6);
  camera.up.set(0, 0, 1);
  const controls = new OrbitControls(camera, canvas);
  controls.enableDamping = false;
  controls.zoomToCursor = true;
  controls.maxPolarAngle = Math.PI * 0.52;
  controls.mouseButtons = { LEFT: MOUSE.ROTATE, MIDDLE: MOUSE.DOLLY, RIGHT: MOUSE.PAN };
  controls.touches = { ONE: TOUCH.ROTATE, TWO: TOUCH.DOLLY_PAN };
  const still = window.matchMedia("(prefers-reduced-motion: reduce)");
  const box = new Box3().setFromPoints(points);
  const size = box.getSize(new Vector3()).length();
  controls.minDistance = NEAREST_MM;
  controls.maxDistance = size * 8;
  /** @type {ViewName | "own"} */ let view = "first";
  let flight = 0;

  /**
   * Where to look at and from how far, so that everything is seen and stands in the middle.
   * @param {Vector3} from
   */
  const fit = (from) => {
    const turn = camera.clone();
    turn.position.copy(from);
    turn.lookAt(0, 0, 0);
    const back = turn.quaternion.clone().invert();
    const tall = Math.tan((camera.fov * Math.PI) / 360) * 0.92;
    const wide = tall * camera.aspect;
    const target = box.getCenter(new Vector3());
    let away = size;
    for (let round = 0; round < 12; round++) {
      const seen = points.map((p) => p.clone().sub(target).applyQuaternion(back));
      away = Math.max(...seen.map((p) => p.z + Math.max(Math.abs(p.x) / wide, Math.abs(p.y) / tall)));
      const xs = seen.map((p) => p.x / (away - p.z));
      const ys = seen.map((p) => p.y / (away - p.z));
      const off = [xs, ys].map((v) => ((Math.min(...v) + Math.max(...v)) / 2) * away);
      target.add(new Vector3(off[0], off[1], 0).applyQuaternion(turn.quaternion));
    }
    return { target, away };
  };

  const own = () => {
    cancelAnimationFrame(flight);
    view = "own";
  };
  controls.addEventListener("start", own);
  controls.addEventListener("change", () => {
    camera.near = Math.max(5, controls.getDistance() * 0.02);
    camera.far = controls.getDistance() + size * 12;
    camera.updateProjectionMatrix();
    changed();
  });

  /** @param {ViewName} name @param {boolean} [at_once] */
  const go = (name, at_once = false) => {
    cancelAnimationFrame(flight);
    view = name;
    const from = new Vector3(...FROM[name]).normalize();
    const { target, away } = fit(from);
    const out = from.clone().multiplyScalar(away);
    if (at_once || still.matches) {
      controls.target.copy(target);
      camera.position.copy(target).add(out);
      controls.update();
      changed();
      return;
    }
    glide(target, out);
  };

  /** @param {Vector3} middle @param {Vector3} out */
  const glide = (middle, out) => {
    const start = performance.now();
    const a = new Spherical().setFromVector3(turned(camera.position.clone().sub(controls.target)));
    const b = new Spherical().setFromVector3(turned(out));
    a.theta = b.theta + Math.atan2(Math.sin(a.theta - b.theta), Math.cos(a.theta - b.theta));
    const target = controls.target.clone();
    const fly = (/** @type {number} */ now) => {
      const t = Math.min(1, Math.max(0, (now - start) / GLIDE_MS));
      const k = t * t * (3 - 2 * t);
      controls.target.lerpVectors(target, middle, k);
      const at = new Spherical(a.radius + (b.radius - a.radius) * k, a.phi + (b.phi - a.phi) * k, a.theta + (b.theta - a.theta) * k);
      camera.position.copy(controls.target).add(unturned(new Vector3().setFromSpherical(at)));
      controls.update();
      if (t < 1) flight = requestAnimationFrame(fly);
    };
    flight = requestAnimationFrame(fly);
  };

  return {
    camera,
    controls,
    go,
    /** The way of looking: a named view, or one's own. */
    view: () => view,
    /** @param {number} wide @param {number} high px */
    resize(wide, high) {
      camera.aspect = wide / high;
      camera.updateProjectionMatrix();
      if (view !== "own") go(view, true);
    },
    /** @param {number} left @param {number} up how many steps */
    turn(left, up) {
      own();
      const at = new Spherical().setFromVector3(turned(camera.position.clone().sub(controls.target)));
      at.theta -= left * TURN_RAD;
      at.phi = Math.min(controls.maxPolarAngle, Math.max(0.01, at.phi - up * TURN_RAD));
      camera.position.copy(controls.target).add(unturned(new Vector3().setFromSpherical(at)));
      controls.update();
    },
    /** @param {number} right @param {number} up how many steps */
    move(right, up) {
      own();
      const step = controls.getDistance() * 0.04;
      const by = new Vector3(right * step, up * step, 0).applyQuaternion(camera.quaternion);
      camera.position.add(by);
      controls.target.add(by);
      controls.update();
    },
    /** @param {number} steps */
    nearer(steps) {
      own();
      const reach = controls.getDistance() * NEARER ** steps;
      const away = Math.min(controls.maxDistance, Math.max(controls.minDistance, reach));
      camera.position.sub(controls.target).setLength(away).add(controls.target);
      controls.update();
    },
    dispose() {
      cancelAnimationFrame(flight);
      controls.dispose();
    },
  };
}

/** To axes with y up, as a sphere counts. @param {Vector3} p */
function turned(p) {
  return new Vector3(p.x, p.z, -p.y);
}

/** @param {Vector3} p */
function unturned(p) {
  return new Vector3(p.x, -p.z, p.y);
}
