// What lies under a finger: the piece, and the nearest corner of it.
import { DoubleSide, FrontSide, InstancedMesh, Raycaster, Vector2, Vector3 } from "three";
import { pointsOf } from "./shapes.js";

/** @typedef {import("./types.js").SceneData} SceneData */
/** @typedef {import("./pieces.js").Pieces} Pieces */

const SNAP_PX = 22;

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
    ray.setFromCamera(at, camera);
    const plane = cut();
    for (const material of Object.values(pieces.materials)) material.side = plane ? DoubleSide : FrontSide;
    const meshes = pieces.meshes.map(({ mesh }) => mesh).filter((mesh) => mesh.visible && mesh.count > 0);
    const hits = ray.intersectObjects([...meshes, ...hiding.filter((one) => one.visible)], false);
    for (const material of Object.values(pieces.materials)) material.side = FrontSide;
    for (const { object, instanceId, point, face } of hits) {
      if (plane && plane.distanceToPoint(point) < 0) continue;
      if (!(object instanceof InstancedMesh) || instanceId === undefined) return null;
      const found = pieces.meshes.find(({ mesh }) => mesh === object);
      if (!found || !face) return null;
      const i = found.own[instanceId];
      const normal = face.normal.clone().transformDirection(pieces.matrixOf(i));
      // The inside of a body is first seen where the cut has opened it.
      const inside = plane !== null && normal.dot(ray.ray.direction) > 0;
      const shown = inside && plane ? (ray.ray.intersectPlane(plane, new Vector3()) ?? point) : point;
      return { piece: i, point: shown };
    }
    return null;
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

