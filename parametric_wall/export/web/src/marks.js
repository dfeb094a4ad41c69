// What a hand has pointed at: the piece that was picked, the points that were measured.
import { EdgesGeometry, Group, LineBasicMaterial, LineSegments, Vector3 } from "three";
import { label, lines, scale } from "./labels.js";

/** @typedef {import("./pieces.js").Pieces} Pieces */
/** @typedef {import("three").PerspectiveCamera} Camera */

const PICKED = "#d9822b";
const MEASURED = "#8a2d12";

/** Outlines the picked piece and gives it a colour of its own. @param {Pieces} pieces */
export function outlineOf(pieces) {
  const group = new Group();
  let picked = -1;
  return {
    group,
    /** The picked piece; -1 for none. */
    piece: () => picked,
    /** @param {number} i -1 for none */
    pick(i) {
      if (picked >= 0) pieces.tint(picked, null);
      for (const old of [...group.children]) {
        group.remove(old);
        /** @type {LineSegments} */ (old).geometry.dispose();
      }
      picked = i;
      const mesh = pieces.meshes.find(({ own }) => own.includes(i))?.mesh;
      if (!mesh) return;
      pieces.tint(i, PICKED);
      const edges = new EdgesGeometry(mesh.geometry, 20);
      group.add(onTop(new LineSegments(edges, new LineBasicMaterial({ color: "#5a2c00" }))));
    },
    /** Keep the outline on its piece. */
    follow() {
      if (picked >= 0) pieces.matrixOf(picked).decompose(group.position, group.quaternion, group.scale);
    },
  };
}

/** Draws the measured points and the length between two. */
export function rule() {
  const group = new Group();
  /** @type {Vector3[]} */ let points = [];
  return {
    group,
    points: () => points,
    /** mm between the two points, where there are two. */
    distance: () => (points.length === 2 ? points[0].distanceTo(points[1]) : null),
    /** @param {Vector3[]} to none, one or two points @param {number} reach mm of a mark's arms */
    set(to, reach = 1) {
      points = to;
      group.clear();
      for (const p of points) {
        const arms = [new Vector3(reach, 0, 0), new Vector3(0, reach, 0), new Vector3(0, 0, reach)];
        const ends = arms.flatMap((d) => [p.clone().sub(d), p.clone().add(d)]);
        group.add(onTop(lines(ends, MEASURED)));
      }
      if (points.length < 2) return;
      const text = label(`${Math.round(points[0].distanceTo(points[1]))} mm`, MEASURED);
      text.position.copy(points[0]).add(points[1]).divideScalar(2);
      group.add(onTop(lines(points, MEASURED)), text);
    },
    /** @param {Camera} camera @param {number} high px */
    fit(camera, high) {
      for (const mark of group.children) if ("isSprite" in mark) scale(/** @type {import("three").Sprite} */ (mark), camera, high);
    },
  };
}

/** @param {LineSegments} line */
function onTop(line) {
  /** @type {LineBasicMaterial} */ (line.material).depthTest = false;
  return line;
}
