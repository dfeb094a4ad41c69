// What the wall stands in: ground with what is dug out, existing walls, planting, a person.
import {
  BoxGeometry,
  BufferGeometry,
  CanvasTexture,
  Color,
  ExtrudeGeometry,
  Float32BufferAttribute,
  Group,
  LineBasicMaterial,
  LineLoop,
  Matrix4,
  Mesh,
  MeshBasicMaterial,
  Path,
  PlaneGeometry,
  Quaternion,
  Shape,
  ShapeGeometry,
  Vector2,
  Vector3,
} from "three";
import { place } from "./pieces.js";
import { pointsOf } from "./shapes.js";
import { hash, instances, plain, stone } from "./stone.js";

/** @typedef {import("./types.js").SceneData} SceneData */
/** @typedef {ReturnType<typeof layGround>} Ground */

const TURF = new Color("#ccd0b4");
const EARTH = new Color("#b7a588");
const EXISTING = new Color("#cfc6ba");
const UNDER = 1; // mm that turf lies under the level, so that a flush footing is seen
const PLANTS_APART = 165; // mm
const MOST_PLANTS = 400;
export const PERSON_MM = 1750;

/** How far the ground reaches past what stands in it, mm. @param {SceneData} data */
export function marginOf({ ground: { rectangle } }) {
  return Math.min(3000, Math.max(880, 0.08 * (rectangle[2] - rectangle[0])));
}

/** @param {SceneData} data */
export function layGround(data) {
  const { low, rectangle, pits, pit_low } = data.ground;
  const group = new Group();
  const material = stone({ grain: 0.2, span: 2900 });
  const outline = rounded(rectangle, marginOf(data));
  const whole = slab(outline, low, -UNDER, material, TURF);
  /** @type {import("three").InstancedMesh[]} */ const opened = [];
  /** Dig it out, the first time that is asked for. */
  const dig = () => {
    for (const shape of around(outline, pits)) opened.push(...slab(shape, pit_low, -UNDER, material, TURF));
    opened.push(...slab(outline, low, pit_low, material, EARTH));
    group.add(...opened);
  };
  const existingMaterial = stone({ arris: 8, grain: 0.16 });
  const existing = data.existing.map(({ at, size: [long, wide, high] }) => {
    const box = new BoxGeometry(long, wide, high).translate(long / 2, wide / 2, high / 2);
    return instances(plain(box), existingMaterial, [place(...at)], [EXISTING]);
  });
  group.add(...whole, ...existing);
  return {
    group,
    whole,
    opened,
    existing,
    materials: [material, existingMaterial],
    canOpen: pits.length > 0,
    isOpen: () => !whole[0].visible,
    /** Show the ground whole, or dug out beside the footing. @param {boolean} open */
    setOpen(open) {
      const dug = open && pits.length > 0;
      if (dug && opened.length === 0) dig();
      for (const mesh of whole) mesh.visible = !dug;
      for (const mesh of opened) mesh.visible = dug;
    },
  };
}

/**
 * A closed slab, as two meshes: its top, and the rest of it.
 * @param {Shape} shape
 * @param {number} low
 * @param {number} top
 * @param {import("three").MeshLambertMaterial} material
 * @param {Color} colour of its top
 */
function slab(shape, low, top, material, colour) {
  const whole = new ExtrudeGeometry(shape, { depth: top - low, bevelEnabled: false, curveSegments: 10 });
  const geometry = plain(whole.translate(0, 0, low));
  const normal = geometry.getAttribute("normal");
  /** @type {number[]} */ const over = [];
  /** @type {number[]} */ const rest = [];
  for (let i = 0; i < normal.count; i += 3) (normal.getZ(i) > 0.5 ? over : rest).push(i, i + 1, i + 2);
  return [over, rest].map((triangles, k) => {
    const part = geometry.clone();
    part.clearGroups();
    part.setIndex(triangles);
    return instances(part, material, [new Matrix4()], [k === 0 ? colour : EARTH]);
  });
}

/** The turf around the pits; an island within a pit is turf again. @param {Shape} outline @param {number[][][]} pits */
function around(outline, pits) {
  const turf = outline.clone();
  turf.holes = pits.map(([ring]) => new Path(vectors(ring)));
  const islands = pits.flatMap(([, ...holes]) => holes.map((ring) => new Shape(vectors(ring))));
  return [turf, ...islands];
}

/** The soft shadow of all of it on the paper below. @param {SceneData} data */
export function blot(data) {
  const { low, rectangle: [x0, y0, x1, y1] } = data.ground;
  const margin = marginOf(data);
  const [wide, deep] = [x1 - x0 + 2 * margin, y1 - y0 + 2 * margin];
  const soft = 0.16 * Math.min(wide, deep);
  const px = 160 / Math.max(wide + 4 * soft, deep + 4 * soft);
  const canvas = document.createElement("canvas");
  canvas.width = Math.ceil((wide + 4 * soft) * px);
  canvas.height = Math.ceil((deep + 4 * soft) * px);
  const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  pen.fillStyle = "rgba(75, 66, 52, 0.11)";
  for (let k = 1; k <= 16; k++) {
    const out = (0.75 + k * 0.078) * soft * px; // one sheet over another, each smaller
    pen.beginPath();
    pen.roundRect(out, out, canvas.width - 2 * out, canvas.height - 2 * out, 0.7 * margin * px);
    pen.fill();
  }
  const material = new MeshBasicMaterial({ map: new CanvasTexture(canvas), transparent: true, opacity: 0.5, depthWrite: false });
  const mesh = new Mesh(new PlaneGeometry(wide + 4 * soft, deep + 4 * soft), material);
  mesh.position.set((x0 + x1) / 2 + 0.5 * soft, (y0 + y1) / 2 + 0.5 * soft, low);
  return mesh;
}

/** @param {[number, number, number, number]} rectangle @param {number} margin */
function rounded([x0, y0, x1, y1], margin) {
  const [a, b, c, d, r] = [x0 - margin, y0 - margin, x1 + margin, y1 + margin, 0.6 * margin];
  const shape = new Shape();
  shape.moveTo(a + r, b);
  shape.lineTo(c - r, b).absarc(c - r, b + r, r, -Math.PI / 2, 0, false);
  shape.lineTo(c, d - r).absarc(c - r, d - r, r, 0, Math.PI / 2, false);
  shape.lineTo(a + r, d).absarc(a + r, d - r, r, Math.PI / 2, Math.PI, false);
  shape.lineTo(a, b + r).absarc(a + r, b + r, r, Math.PI, 1.5 * Math.PI, false);
  return shape;
}

/** @param {number[]} flat */
function vectors(flat) {
  const points = [];
  for (let i = 0; i < flat.length; i += 2) points.push(new Vector2(flat[i], flat[i + 1]));
  return points;
}

/** Plants on the soil of a planter, the same ones every time. @param {SceneData} data */
export function plant(data) {
  /** @type {Matrix4[]} */ const plants = [];
  /** @type {Color[]} */ const colours = [];
  for (const { plan, z, key } of topsOfSoil(data)) {
    const box = bounds(plan);
    const apart = Math.max(PLANTS_APART, Math.sqrt(((box[2] - box[0]) * (box[3] - box[1])) / MOST_PLANTS));
    for (let x0 = box[0]; x0 < box[2]; x0 += apart) {
      for (let y0 = box[1]; y0 < box[3]; y0 += apart) {
        const [u, v, w, t] = ["x", "y", "size", "tone"].map((what) => hash(`${key} ${what} ${x0} ${y0}`));
        const [x, y] = [x0 + apart * (0.15 + 0.7 * u), y0 + apart * (0.15 + 0.7 * v)];
        if (!clear(plan, x, y, 70)) continue;
        const wide = 105 + 45 * w;
        const turned = new Quaternion().setFromAxisAngle(new Vector3(0, 0, 1), t * 20);
        plants.push(new Matrix4().compose(new Vector3(x, y, z), turned, new Vector3(wide, wide, 120 + 150 * w * t)));
        colours.push(new Color().setHSL(0.2 + 0.12 * t, 0.17 + 0.14 * w, 0.42 + 0.2 * ((t * 7) % 1)));
      }
    }
  }
  const material = stone({ arris: 1.2 });
  return { mesh: instances(tuft(), material, plants, colours), material };
}

/** One plant, 1 wide to each side and 1 high: blades that lean out, as dark at the foot as an arris. */
function tuft() {
  /** @type {number[]} */ const position = [];
  /** @type {number[]} */ const normal = [];
  /** @type {number[]} */ const inset = [];
  const blades = 30;
  for (let k = 0; k < blades; k++) {
    const turn = k * 2.4;
    const out = 0.15 + 0.85 * Math.sqrt(k / blades);
    const high = 1 - 0.45 * (k / blades) ** 2 - 0.2 * hash(`high ${k}`);
    const [c, s] = [Math.cos(turn), Math.sin(turn)];
    const wide = 0.1;
    const foot = [0.12 * c, 0.12 * s, 0];
    const left = [0.55 * out * c - wide * s, 0.55 * out * s + wide * c, 0.62 * high];
    const right = [0.55 * out * c + wide * s, 0.55 * out * s - wide * c, 0.62 * high];
    const tip = [out * c, out * s, high];
    // Both sides of a blade: they are lit as one.
    for (const p of [foot, right, left, left, right, tip, foot, left, right, left, tip, right]) {
      position.push(...p);
      normal.push(0.45 * c, 0.45 * s, 0.9);
      inset.push(1.3 * p[2]);
    }
  }
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new Float32BufferAttribute(position, 3));
  geometry.setAttribute("normal", new Float32BufferAttribute(normal, 3));
  geometry.setAttribute("rim", new Float32BufferAttribute(new Float32Array(position.length), 3));
  geometry.setAttribute("inset", new Float32BufferAttribute(inset, 1));
  return geometry;
}

/** The upper faces of the highest soil of each planter. @param {SceneData} data */
function topsOfSoil(data) {
  /** @type {Map<string, { plan: number[][]; z: number; key: string }>} */ const found = new Map();
  for (const [shape, x, y, z, turn, , id] of data.pieces) {
    if (data.shapes[shape].kind !== "soil") continue;
    const points = pointsOf(data.shapes[shape].points).map((p) => p.applyMatrix4(place(x, y, z, turn)));
    const top = Math.max(...points.map((p) => p.z));
    const wall = id.split("/")[0];
    if ((found.get(wall)?.z ?? -Infinity) >= top) continue;
    const face = data.shapes[shape].faces[1]; // underside, top, sides
    found.set(wall, { plan: face[0].map((i) => [points[i].x, points[i].y]), z: top, key: wall });
  }
  return [...found.values()];
}

/** @param {number[][]} plan */
function bounds(plan) {
  const xs = plan.map(([x]) => x);
  const ys = plan.map(([, y]) => y);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

/** Whether a place lies within an outline and clear of its edges. @param {number[][]} plan @param {number} x @param {number} y @param {number} margin */
function clear(plan, x, y, margin) {
  let within = false;
  for (let i = 0; i < plan.length; i++) {
    const [ax, ay] = plan[i];
    const [bx, by] = plan[(i + 1) % plan.length];
    if (ay > y !== by > y && x < ax + ((y - ay) * (bx - ax)) / (by - ay)) within = !within;
    const length = Math.hypot(bx - ax, by - ay);
    const t = Math.max(0, Math.min(1, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length ** 2));
    if (Math.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay)) < margin) return false;
  }
  return within;
}

/** A person's outline, 1.75 m, that turns to whoever looks. @param {SceneData} data */
export function stand(data) {
  const s = new Shape();
  s.moveTo(-62, 0).lineTo(-30, 0).lineTo(-8, 760).lineTo(8, 760).lineTo(30, 0).lineTo(62, 0);
  s.lineTo(70, 26).lineTo(98, 500).bezierCurveTo(118, 700, 128, 800, 128, 930);
  s.bezierCurveTo(132, 1010, 140, 1090, 150, 1180).bezierCurveTo(160, 1090, 172, 980, 180, 850);
  s.bezierCurveTo(182, 800, 222, 800, 226, 850).bezierCurveTo(232, 1000, 226, 1180, 214, 1320);
  s.bezierCurveTo(206, 1400, 150, 1428, 70, 1446).lineTo(52, 1500);
  s.bezierCurveTo(112, 1560, 104, 1750, 0, 1750).bezierCurveTo(-104, 1750, -112, 1560, -52, 1500);
  s.lineTo(-70, 1446).bezierCurveTo(-150, 1428, -206, 1400, -214, 1320);
  s.bezierCurveTo(-226, 1180, -232, 1000, -226, 850).bezierCurveTo(-222, 800, -182, 800, -180, 850);
  s.bezierCurveTo(-172, 980, -160, 1090, -150, 1180).bezierCurveTo(-140, 1090, -132, 1010, -128, 930);
  s.bezierCurveTo(-128, 800, -118, 700, -98, 500).lineTo(-70, 26).closePath();
  const figure = new Group();
  // With a picture, though of one colour only: so it shares the blot's program.
  const inside = new MeshBasicMaterial({ map: blank(), color: "#5d7480", transparent: true, opacity: 0.32, depthWrite: false });
  const upright = new Matrix4().makeRotationX(Math.PI / 2);
  figure.add(new Mesh(new ShapeGeometry(s, 16).applyMatrix4(upright), inside));
  const line = new BufferGeometry().setFromPoints(s.getPoints(16)).applyMatrix4(upright);
  figure.add(new LineLoop(line, new LineBasicMaterial({ color: "#42545e" })));
  figure.position.set(data.person[0], data.person[1], 0);
  return figure;
}


function blank() {
  const canvas = document.createElement("canvas");
  canvas.width = canvas.height = 1;
  const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  pen.fillStyle = "#fff";
  pen.fillRect(0, 0, 1, 1);
  return new CanvasTexture(canvas);
}
