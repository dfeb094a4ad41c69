// From plane faces to triangles that know how far they are from the nearest arris.
import { BufferGeometry, Float32BufferAttribute, ShapeUtils, Vector2, Vector3 } from "three";

/** @typedef {import("./types.js").ShapeData} ShapeData */

const FAR = 1e4; // mm from an arris: nothing of it is seen

/**
 * A shape's triangles. Each corner has `rim`, the way in the face towards its arris, and
 * `inset`, how far from it; a shader softens the arris with them.
 * @param {Pick<ShapeData, "points" | "faces">} shape
 */
export function geometryOf(shape) {
  const corners = pointsOf(shape.points);
  /** @type {number[]} */ const position = [];
  /** @type {number[]} */ const normal = [];
  /** @type {number[]} */ const rim = [];
  /** @type {number[]} */ const inset = [];
  /** @param {Vector3} p @param {Vector3} n @param {Vector3} r @param {number} d */
  const put = (p, n, r, d) => {
    position.push(p.x, p.y, p.z);
    normal.push(n.x, n.y, n.z);
    rim.push(r.x, r.y, r.z);
    inset.push(d);
  };
  for (const face of shape.faces) {
    const rings = face.map((ring) => ring.map((i) => corners[i]));
    const n = normalOf(rings[0]);
    if (rings.length === 1 && isConvex(rings[0], n)) {
      fan(rings[0], n, put);
    } else {
      for (const triangle of cut(rings, n)) {
        for (const p of triangle) put(p, n, new Vector3(), FAR);
      }
    }
  }
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new Float32BufferAttribute(position, 3));
  geometry.setAttribute("normal", new Float32BufferAttribute(normal, 3));
  geometry.setAttribute("rim", new Float32BufferAttribute(rim, 3));
  geometry.setAttribute("inset", new Float32BufferAttribute(inset, 1));
  return geometry;
}

/** @param {number[]} flat */
export function pointsOf(flat) {
  const points = [];
  for (let i = 0; i < flat.length; i += 3) {
    points.push(new Vector3(flat[i], flat[i + 1], flat[i + 2]));
  }
  return points;
}

/** Newell's rule. @param {Vector3[]} ring */
function normalOf(ring) {
  const sum = new Vector3();
  ring.forEach((p, i) => sum.add(p.clone().cross(ring[(i + 1) % ring.length])));
  return sum.normalize();
}

/** @param {Vector3[]} ring @param {Vector3} n */
function isConvex(ring, n) {
  return ring.every((p, i) => {
    const next = ring[(i + 1) % ring.length];
    const after = ring[(i + 2) % ring.length];
    return next.clone().sub(p).cross(after.clone().sub(next)).dot(n) > -1e-3;
  });
}

/**
 * Triangles from the middle: in each, the distance from its own edge is linear.
 * @param {Vector3[]} ring
 * @param {Vector3} n
 * @param {(p: Vector3, n: Vector3, r: Vector3, d: number) => void} put
 */
function fan(ring, n, put) {
  const middle = ring.reduce((sum, p) => sum.add(p), new Vector3()).divideScalar(ring.length);
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length];
    const out = b.clone().sub(a).cross(n).normalize();
    put(a, n, out, 0);
    put(b, n, out, 0);
    put(middle, n, out, a.clone().sub(middle).dot(out));
  });
}

/** @param {Vector3[][]} rings @param {Vector3} n */
function cut(rings, n) {
  const along = rings[0][1].clone().sub(rings[0][0]).normalize();
  const across = n.clone().cross(along);
  const flat = rings.map((ring) => ring.map((p) => new Vector2(p.dot(along), p.dot(across))));
  const every = rings.flat();
  return ShapeUtils.triangulateShape(flat[0], flat.slice(1)).map((t) => t.map((i) => every[i]));
}
