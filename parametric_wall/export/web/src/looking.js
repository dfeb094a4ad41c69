// Where one looks from: fixed views, turning, moving and coming nearer by hand and by keys.
import { Box3, MOUSE, PerspectiveCamera, Spherical, TOUCH, Vector3 } from "three";
import { OrbitControls } from "three/addons/controls/OrbitControls.js";

/** @typedef {import("./types.js").ViewName} ViewName */

const LENS_DEG = 26;
const TURN_RAD = Math.PI / 24;
const NEARER = 0.88;
const GLIDE_MS = 420;

/** From where each view looks. @type {Record<ViewName, [number, number, number]>} */
const FROM = {
  first: [0.62, -1, 0.52],
  front: [0, -1, 0.1],
  corner: [-0.9, -0.8, 0.42],
  above: [0, -0.002, 1],
};

/**
 * @param {HTMLElement} canvas
 * @param {Box3} box what is to be seen
 * @param {() => void} changed
 */
export function lookAt(canvas, box, changed) {
  const camera = new PerspectiveCamera(LENS_DEG, 1, 10, 1e6);
  camera.up.set(0, 0, 1);
  const controls = new OrbitControls(camera, canvas);
  controls.enableDamping = false;
  controls.maxPolarAngle = Math.PI * 0.52;
  controls.mouseButtons = { LEFT: MOUSE.ROTATE, MIDDLE: MOUSE.DOLLY, RIGHT: MOUSE.PAN };
  controls.touches = { ONE: TOUCH.ROTATE, TWO: TOUCH.DOLLY_PAN };
  const still = window.matchMedia("(prefers-reduced-motion: reduce)");
  const middle = box.getCenter(new Vector3());
  const size = box.getSize(new Vector3()).length();
  controls.minDistance = size * 0.08;
  controls.maxDistance = size * 8;
  /** @type {ViewName | "own"} */ let view = "first";
  let flight = 0;

  /** How far away all of the box is seen. @param {Vector3} from */
  const fit = (from) => {
    const probe = camera.clone();
    probe.position.copy(middle).add(from);
    probe.lookAt(middle);
    probe.updateMatrixWorld();
    const tall = Math.tan((camera.fov * Math.PI) / 360);
    let away = 0;
    for (let k = 0; k < 8; k++) {
      const p = new Vector3(
        k & 1 ? box.max.x : box.min.x,
        k & 2 ? box.max.y : box.min.y,
        k & 4 ? box.max.z : box.min.z,
      ).sub(middle);
      const inView = p.applyQuaternion(probe.quaternion.clone().invert());
      away = Math.max(
        away,
        inView.z + Math.abs(inView.x) / (tall * camera.aspect * 0.94),
        inView.z + Math.abs(inView.y) / (tall * 0.9),
      );
    }
    return away;
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
    const there = middle.clone().addScaledVector(from, fit(from));
    if (at_once || still.matches) {
      camera.position.copy(there);
      controls.target.copy(middle);
      controls.update();
      changed();
      return;
    }
    glide(there);
  };

  /** @param {Vector3} there */
  const glide = (there) => {
    const start = performance.now();
    const a = new Spherical().setFromVector3(turned(camera.position.clone().sub(controls.target)));
    const b = new Spherical().setFromVector3(turned(there.clone().sub(middle)));
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
