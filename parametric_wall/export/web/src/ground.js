// What the wall stands in: ground with what is dug out, existing walls, planting, a person.
import {
  BoxGeometry,
  BufferGeometry,
  Color,
  DoubleSide,
  ExtrudeGeometry,
  Float32BufferAttribute,
  Group,
  InstancedMesh,
  LineBasicMaterial,
  LineLoop,
  Matrix4,
  Mesh,
  MeshBasicMaterial,
  MeshLambertMaterial,
  Path,
  PlaneGeometry,
  Quaternion,
  ShadowMaterial,
  Shape,
  ShapeGeometry,
  Vector2,
  Vector3,
} from "three";
import { place } from "./pieces.js";
import { pointsOf } from "./shapes.js";
import { hash, stone } from "./stone.js";

/** @typedef {import("./types.js").SceneData} SceneData */
/** @typedef {ReturnType<typeof layGround>} Ground */

const TURF = "#ccd0b4";
const EARTH = "#b7a588";
const EXISTING = "#c9beb0";
const UNDER = 1; // mm that turf lies under the level, so that a flush footing is seen
const PLANTS_APART = 165; // mm
const MOST_PLANTS = 400;
export const PERSON_MM = 1750;

/** @param {SceneData} data */
export function layGround(data) {
  const { low, rectangle, pits, pit_low } = data.ground;
  const group = new Group();
  const materials = [stone({ colour: TURF, grain: 0.16 }), stone({ colour: EARTH, grain: 0.3 })];
  const outline = rounded(rectangle, Math.max(900, 0.08 * (rectangle[2] - rectangle[0])));
  const whole = slab([outline], low, -UNDER, materials);
  group.add(whole);
  /** @type {Mesh[]} */ const opened = [];
  if (pits.length > 0) {
    const upper = holed(outline, pits, pit_low, materials);
    const lower = slab([outline], low, pit_low, [materials[1], materials[1]]);
    opened.push(...upper, lower);
    for (const mesh of opened) mesh.visible = false;
    group.add(...opened);
  }
  const catcher = new Mesh(new PlaneGeometry(1, 1), new ShadowMaterial({ color: "#4b4234", opacity: 0.22 }));
  catcher.scale.setScalar(60 * Math.max(rectangle[2] - rectangle[0], rectangle[3] - rectangle[1]));
  catcher.position.set((rectangle[0] + rectangle[2]) / 2, (rectangle[1] + rectangle[3]) / 2, low);
  catcher.receiveShadow = true;
  group.add(catcher);
  const existingMaterial = stone({ colour: EXISTING, arris: 8, grain: 0.16 });
  const existing = data.existing.map(({ at, size }) => {
    const mesh = new Mesh(plain(new BoxGeometry(...size).translate(size[0] / 2, size[1] / 2, size[2] / 2)), existingMaterial);
    mesh.applyMatrix4(place(...at));
    mesh.castShadow = mesh.receiveShadow = true;
    return mesh;
  });
  if (existing.length > 0) group.add(...existing);
  return {
    group,
    whole,
    opened,
    existing,
    materials,
    existingMaterial,
    canOpen: opened.length > 0,
    /** Show the ground whole, or dug out beside the footing. @param {boolean} open */
    setOpen(open) {
      whole.visible = !open || opened.length === 0;
      for (const mesh of opened) mesh.visible = open;
    },
  };
}

/**
 * A closed slab: turf above, earth at the sides and below.
 * @param {[Shape] | Shape[]} shapes
 * @param {number} low
 * @param {number} top
 * @param {import("three").Material[]} materials of its top, of the rest
 */
function slab(shapes, low, top, materials) {
  const geometry = new ExtrudeGeometry(shapes, { depth: top - low, bevelEnabled: false, curveSegments: 10 });
  geometry.translate(0, 0, low);
  const mesh = new Mesh(topApart(plain(geometry), top), materials);
  mesh.castShadow = mesh.receiveShadow = true;
  return mesh;
}

/** The turf with holes for the pits; an island within a pit is turf again. @param {Shape} outline @param {number[][][]} pits @param {number} low @param {import("three").Material[]} materials */
function holed(outline, pits, low, materials) {
  const around = outline.clone();
  around.holes = pits.map(([ring]) => new Path(vectors(ring)));
  const islands = pits.flatMap(([, ...holes]) => holes.map((ring) => new Shape(vectors(ring))));
  return [around, ...islands].map((shape) => slab([shape], low, -UNDER, materials));
}

/** Sort a geometry's triangles into those of its top and the others. @param {BufferGeometry} geometry @param {number} top */
function topApart(geometry, top) {
  const position = geometry.getAttribute("position");
  const normal = geometry.getAttribute("normal");
  /** @type {number[]} */ const over = [];
  /** @type {number[]} */ const rest = [];
  for (let i = 0; i < position.count; i += 3) {
    const isTop = normal.getZ(i) > 0.5 && Math.abs(position.getZ(i) - top) < 1;
    (isTop ? over : rest).push(i, i + 1, i + 2);
  }
  geometry.setIndex([...over, ...rest]);
  geometry.clearGroups();
  geometry.addGroup(0, over.length, 0);
  geometry.addGroup(over.length, rest.length, 1);
  return geometry;
}

/** A geometry without arrises, for the pieces' own material. @param {BufferGeometry} given */
function plain(given) {
  const geometry = given.index ? given.toNonIndexed() : given;
  const count = geometry.getAttribute("position").count;
  geometry.setAttribute("rim", new Float32BufferAttribute(new Float32Array(count * 3), 3));
  geometry.setAttribute("inset", new Float32BufferAttribute(new Float32Array(count).fill(1e4), 1));
  return geometry;
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
  const material = new MeshLambertMaterial({ side: DoubleSide, vertexColors: true });
  material.clipShadows = true;
  const mesh = new InstancedMesh(tuft(), material, plants.length);
  plants.forEach((matrix, i) => mesh.setMatrixAt(i, matrix));
  colours.forEach((colour, i) => mesh.setColorAt(i, colour));
  mesh.castShadow = mesh.receiveShadow = true;
  mesh.frustumCulled = false;
  return { mesh, material };
}

/** One plant, 1 wide to each side and 1 high: blades that lean out, darker at the foot. */
function tuft() {
  /** @type {number[]} */ const position = [];
  /** @type {number[]} */ const normal = [];
  /** @type {number[]} */ const colour = [];
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
    /** @type {[number[], number][]} */
    const corners = [[foot, 0.45], [right, 0.9], [left, 0.9], [left, 0.9], [right, 0.9], [tip, 1.15]];
    for (const [p, shade] of corners) {
      position.push(...p);
      normal.push(0.45 * c, 0.45 * s, 0.9);
      colour.push(shade, shade, shade);
    }
  }
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new Float32BufferAttribute(position, 3));
  geometry.setAttribute("normal", new Float32BufferAttribute(normal, 3));
  geometry.setAttribute("color", new Float32BufferAttribute(colour, 3));
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
  const inside = new MeshBasicMaterial({ color: "#5d7480", transparent: true, opacity: 0.32, side: DoubleSide, depthWrite: false });
  const upright = new Matrix4().makeRotationX(Math.PI / 2);
  figure.add(new Mesh(new ShapeGeometry(s, 16).applyMatrix4(upright), inside));
  const line = new BufferGeometry().setFromPoints(s.getPoints(16)).applyMatrix4(upright);
  figure.add(new LineLoop(line, new LineBasicMaterial({ color: "#42545e" })));
  figure.position.set(data.person[0], data.person[1], 0);
  return figure;
}

