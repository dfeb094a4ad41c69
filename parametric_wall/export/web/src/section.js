// A cut through everything by an upright plane, its face closed kind by kind.
import {
  AlwaysStencilFunc,
  BackSide,
  CanvasTexture,
  DecrementWrapStencilOp,
  FrontSide,
  Group,
  IncrementWrapStencilOp,
  InstancedMesh,
  Mesh,
  MeshBasicMaterial,
  NotEqualStencilFunc,
  Plane,
  PlaneGeometry,
  RepeatWrapping,
  ReplaceStencilOp,
  SRGBColorSpace,
  Vector3,
} from "three";

/** @typedef {import("./types.js").CutWay} CutWay */
/** @typedef {import("three").Material} Material */

/**
 * What is closed in one colour.
 * @typedef {object} Filled
 * @property {InstancedMesh[]} meshes
 * @property {string} colour
 * @property {"plain" | "hatched" | "dotted"} mark
 */

const MARK_MM = 90; // size of a mark's tile

/**
 * The faces of a cut. What lies over one pixel of the plane is inside a body where more of
 * the body's backs than of its fronts are behind it: the stencil counts them.
 * @param {Filled[]} filled from the one that others are drawn over to the last
 * @param {Material[]} clipped every material that is cut
 * @param {number} span mm across everything
 */
export function sectionOf(filled, clipped, span) {
  const plane = new Plane(new Vector3(0, 1, 0), 0);
  const group = new Group();
  group.visible = false;
  const counters = [counter(BackSide, plane), counter(FrontSide, plane)];
  /** @type {{ twin: InstancedMesh, of: InstancedMesh }[]} */ const twins = [];
  const caps = filled.map(({ meshes, colour, mark }, i) => {
    for (const of of meshes) {
      for (const material of counters) {
        const twin = twinOf(of, material);
        twin.renderOrder = 10 + 2 * i;
        twins.push({ twin, of });
        group.add(twin);
      }
    }
    const cap = new Mesh(new PlaneGeometry(2 * span, 2 * span), capMaterial(colour, mark, span));
    cap.renderOrder = 11 + 2 * i;
    cap.onAfterRender = (renderer) => renderer.clearStencil();
    group.add(cap);
    return cap;
  });
  return {
    group,
    plane,
    /** @param {CutWay} way @param {number} at mm along x, or along y */
    set(way, at) {
      const on = way !== "off";
      if (on !== group.visible) {
        for (const material of clipped) {
          material.clippingPlanes = on ? [plane] : null;
          material.needsUpdate = true;
        }
      }
      group.visible = on;
      if (way === "across") plane.set(new Vector3(-1, 0, 0), at);
      if (way === "along") plane.set(new Vector3(0, 1, 0), -at);
      for (const cap of caps) {
        plane.coplanarPoint(cap.position);
        cap.up.set(0, 0, 1);
        cap.lookAt(cap.position.clone().sub(plane.normal));
      }
    },
    /** Follow what is shown and laid. */
    follow() {
      if (!group.visible) return;
      for (const { twin, of } of twins) {
        twin.visible = of.visible && (of.parent?.visible ?? true);
        twin.count = of.count;
      }
    },
  };
}

/** @param {typeof BackSide | typeof FrontSide} side @param {Plane} plane */
function counter(side, plane) {
  const op = side === BackSide ? IncrementWrapStencilOp : DecrementWrapStencilOp;
  return new MeshBasicMaterial({
    side,
    clippingPlanes: [plane],
    depthWrite: false,
    depthTest: false,
    colorWrite: false,
    stencilWrite: true,
    stencilFunc: AlwaysStencilFunc,
    stencilFail: op,
    stencilZFail: op,
    stencilZPass: op,
  });
}

/** The same bodies again, only to be counted. @param {InstancedMesh} of @param {Material} material */
function twinOf(of, material) {
  const twin = new InstancedMesh(of.geometry, material, 0);
  twin.instanceMatrix = of.instanceMatrix;
  twin.frustumCulled = false;
  twin.matrixAutoUpdate = false;
  return twin;
}

/** @param {string} colour @param {Filled["mark"]} mark @param {number} span */
function capMaterial(colour, mark, span) {
  return new MeshBasicMaterial({
    map: tile(colour, mark, (2 * span) / MARK_MM),
    stencilWrite: true,
    stencilRef: 0,
    stencilFunc: NotEqualStencilFunc,
    stencilFail: ReplaceStencilOp,
    stencilZFail: ReplaceStencilOp,
    stencilZPass: ReplaceStencilOp,
  });
}

/** @param {string} colour @param {Filled["mark"]} mark @param {number} times */
function tile(colour, mark, times) {
  const canvas = document.createElement("canvas");
  canvas.width = canvas.height = 64;
  const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  pen.fillStyle = colour;
  pen.fillRect(0, 0, 64, 64);
  pen.strokeStyle = pen.fillStyle = "rgba(43, 42, 38, 0.55)";
  pen.lineWidth = 2.5;
  if (mark === "hatched") {
    for (const x of [-64, -32, 0, 32]) {
      pen.beginPath();
      pen.moveTo(x, 64);
      pen.lineTo(x + 64, 0);
      pen.stroke();
    }
  } else if (mark === "dotted") {
    for (const [x, y, r] of [[12, 14, 3], [40, 26, 4.5], [22, 46, 2.5], [54, 54, 3]]) {
      pen.beginPath();
      pen.arc(x, y, r, 0, 7);
      pen.fill();
    }
  }
  const texture = new CanvasTexture(canvas);
  texture.wrapS = texture.wrapT = RepeatWrapping;
  texture.repeat.set(times, times);
  texture.anisotropy = 4;
  texture.colorSpace = SRGBColorSpace;
  return texture;
}
