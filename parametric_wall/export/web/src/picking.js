// What lies under a finger: the piece, and the nearest corner of it.
import { DoubleSide, FrontSide, Raycaster, Vector2, Vector3 } from "three";
import { pointsOf } from "./shapes.js";

/** @typedef {import("./types.js").SceneData} SceneData */
/** @typedef {import("./pieces.js").Pieces} Pieces */

const SNAP_PX = 22;
const TIES = 6; // faces that may lie on each other

/**
 * @param {SceneData} data
 * @param {Pieces} pieces
 * @param {import("three").PerspectiveCamera} camera
 * @param {() => import("three").Plane | null} cut the plane of the cut, where there is one
 */
export function pickFrom(data, pieces, camera, cut) {
  const ray = new Raycaster();

  /** The first piece that is seen there. @param {Vector2} at -1 to 1 @param {import("three").Object3D[]} hiding */
  const hit = (at, hiding) => {
    camera.updateMatrixWorld(); // it may have moved since it last drew
    ray.setFromCamera(at, camera);
    const plane = cut();
    for (const material of Object.values(pieces.materials)) material.side = plane ? DoubleSide : FrontSide;
    const meshes = pieces.meshes.map(({ mesh }) => mesh).filter((mesh) => mesh.visible && mesh.count > 0);
    const hits = ray.intersectObjects([...meshes, ...hiding.filter((one) => one.visible)], false);
    for (const material of Object.values(pieces.materials)) material.side = FrontSide;
    const seen = hits.filter(({ point }) => !plane || plane.distanceToPoint(point) >= 0);
    const found = seen.slice(0, TIES).map((one) => pieceAt(one, plane));
    // Where the cut has opened a body its far inside is hit, and there the next body begins.
    const near = seen.findIndex(({ distance }, i) => distance < seen[0].distance + 0.5 && found[i]?.inside);
    return found[Math.max(0, near)] ?? null;
  };

  /** What was hit, if it is a piece. @param {import("three").Intersection} one @param {import("three").Plane | null} plane */
  const pieceAt = ({ object, instanceId, point, face }, plane) => {
    const mesh = pieces.meshes.find((own) => own.mesh === object);
    if (!mesh || instanceId === undefined || !face) return null;
    const piece = mesh.own[instanceId];
    const inside = face.normal.clone().transformDirection(pieces.matrixOf(piece)).dot(ray.ray.direction) > 0;
    const opened = inside && plane ? ray.ray.intersectPlane(plane, new Vector3()) : null;
    return { piece, inside, point: opened ?? point };
  };

  return {
    hit,
    /**
     * A point to measure from: a corner of the piece where one is near.
     * @param {Vector2} at -1 to 1
     * @param {number} wide @param {number} high px
     * @param {import("three").Object3D[]} hiding
     */
    point(at, wide, high, hiding) {
      const found = hit(at, hiding);
      if (!found) return null;
      const matrix = pieces.matrixOf(found.piece);
      const plane = cut();
      const near = pointsOf(data.shapes[data.pieces[found.piece][0]].points)
        .map((p) => p.applyMatrix4(matrix))
        .filter((p) => !plane || plane.distanceToPoint(p) > -0.5)
        .map((p) => {
          const seen = p.clone().project(camera);
          return { p, px: Math.hypot(((seen.x - at.x) * wide) / 2, ((seen.y - at.y) * high) / 2) };
        })
        .sort((a, b) => a.px - b.px)[0];
      return near && near.px < SNAP_PX ? near.p : found.point;
    },
  };
}

