// The pieces of the wall: one instanced mesh a shape, its pieces in laying order.
import { Color, Euler, Group, Matrix4, Quaternion, Vector3 } from "three";
import { geometryOf } from "./shapes.js";
import { hash, instances, stone } from "./stone.js";

/** @typedef {import("./types.js").SceneData} SceneData */
/** @typedef {import("./types.js").Part} Part */
/** @typedef {import("three").MeshLambertMaterial} Material */

const LIFT = 150; // mm between two courses pulled apart
const SPREAD = 0.32; // how much wider at the most, of the distance from the middle
const SPREAD_MM = 1000; // and how far an end moves at the most

/** @type {Record<string, Part>} */
export const PART_OF = {
  footing: "footing",
  bed: "mortar",
  perp: "mortar",
  filler: "mortar",
  "coping bed": "mortar",
  "coping joint": "mortar",
  coping: "copings",
  drainage: "soil",
  soil: "soil",
};

/** How a kind is drawn: mm over which its arrises are softened, and its grain. */
const LOOKS = /** @type {Record<string, [arris: number, grain: number]>} */ ({
  block: [5, 0.22],
  coping: [4, 0.14],
  footing: [0, 0.2],
  soil: [0, 0.5],
  drainage: [0, 0.7],
});

/** @type {Record<string, string>} */
const KIND_NAMES = {
  bed: "Bed joint",
  perp: "Perp joint",
  filler: "Movement joint filler",
  "coping bed": "Coping bed",
  "coping joint": "Coping joint",
  footing: "Concrete footing",
  drainage: "Drainage layer",
  soil: "Soil",
  block: "Block",
  coping: "Coping",
};

/** @typedef {ReturnType<typeof layPieces>} Pieces */

/** @param {SceneData} data */
export function layPieces(data) {
  const group = new Group();
  const places = data.pieces.map(([, x, y, z, turn]) => place(x, y, z, turn));
  const centres = data.pieces.map(([shape], i) => middle(data.shapes[shape].points).applyMatrix4(places[i]));
  const centre = new Vector3((data.ground.rectangle[0] + data.ground.rectangle[2]) / 2, (data.ground.rectangle[1] + data.ground.rectangle[3]) / 2, 0);
  const half = Math.max(data.ground.rectangle[2] - data.ground.rectangle[0], data.ground.rectangle[3] - data.ground.rectangle[1]) / 2;
  const spread = Math.min(SPREAD, SPREAD_MM / half);
  const footed = data.steps[0] === "Footing";
  /** @type {Record<string, Material>} */ const materials = {};
  const meshes = data.shapes.map((shape, number) => {
    const own = data.pieces.flatMap((row, i) => (row[0] === number ? [i] : []));
    own.sort((a, b) => data.pieces[a][5] - data.pieces[b][5] || a - b);
    const [arris, grain] = LOOKS[shape.kind] ?? [0, 0.12];
    materials[shape.kind] ??= stone({ arris, grain });
    const mesh = instances(
      geometryOf(shape),
      materials[shape.kind],
      own.map((i) => places[i]),
      own.map((i) => tone(data.colours[shape.kind], data.pieces[i][6])),
      own.map((i) => hash(data.pieces[i][6])),
    );
    group.add(mesh);
    return { mesh, own, kind: shape.kind, upTo: counts(data, own) };
  });
  const where = data.pieces.map(() => ({ mesh: 0, at: 0 }));
  meshes.forEach(({ own }, mesh) => own.forEach((i, at) => (where[i] = { mesh, at })));

  /** How far what is laid in a step is lifted. @param {number} step */
  const liftOf = (step) => LIFT * (step + (footed ? 0 : 1));

  /** How far a piece stands off when all is pulled apart. @param {number} i */
  const off = (i) => {
    const [shape, , , , , step] = data.pieces[i];
    const kind = data.shapes[shape].kind;
    if (kind === "footing") return new Vector3();
    const flat = kind === "bed" || kind === "coping bed" ? 0.45 : 0;
    const across = centres[i].clone().sub(centre).setZ(0).multiplyScalar(spread);
    return across.setZ(liftOf(step) - LIFT * flat);
  };
  const offs = data.pieces.map((_, i) => off(i));
  let apart = 0;
  const moved = new Matrix4();
  const setApart = (/** @type {number} */ share) => {
    apart = share;
    for (const { mesh, own } of meshes) {
      own.forEach((i, at) => {
        const d = offs[i];
        mesh.setMatrixAt(at, moved.makeTranslation(d.x * share, d.y * share, d.z * share).multiply(places[i]));
      });
      mesh.instanceMatrix.needsUpdate = true;
      mesh.computeBoundingSphere();
    }
  };
  setApart(0);

  return {
    group,
    meshes,
    materials,
    setApart,
    liftOf,
    /** Lay everything up to a step. @param {number} step */
    setStep(step) {
      for (const { mesh, upTo } of meshes) mesh.count = upTo[step];
    },
    /** @param {Part} part @param {boolean} shown */
    setShown(part, shown) {
      for (const { mesh, kind } of meshes) if (PART_OF[kind] === part) mesh.visible = shown;
    },
    /** How many pieces are drawn. */
    drawn() {
      return meshes.reduce((sum, { mesh }) => sum + (mesh.visible ? mesh.count : 0), 0);
    },
    /** Whether a piece is drawn. @param {number} i */
    isDrawn(i) {
      const { mesh, at } = where[i];
      return meshes[mesh].mesh.visible && at < meshes[mesh].mesh.count;
    },
    /** Where a piece stands now. @param {number} i */
    matrixOf(i) {
      const d = offs[i];
      return new Matrix4().makeTranslation(d.x * apart, d.y * apart, d.z * apart).multiply(places[i]);
    },
    /** Give a piece a colour of its own, or its own back. @param {number} i @param {string | null} colour */
    tint(i, colour) {
      const { mesh, at } = where[i];
      const own = tone(data.colours[meshes[mesh].kind], data.pieces[i][6]);
      meshes[mesh].mesh.setColorAt(at, colour === null ? own : new Color(colour));
      const colours = meshes[mesh].mesh.instanceColor;
      if (colours) colours.needsUpdate = true;
    },
    /** What a piece is. @param {number} i */
    about(i) {
      const [shape, , , , , step, id, cut, length] = data.pieces[i];
      const { kind, size, mass_kg } = data.shapes[shape];
      return { id, kind, name: KIND_NAMES[kind] ?? kind, course: data.steps[step], cut: cut === 1, length_mm: length, size, mass_kg };
    },
  };
}

/** @param {number} x @param {number} y @param {number} z @param {number} turn degrees */
export function place(x, y, z, turn) {
  const turned = new Quaternion().setFromEuler(new Euler(0, 0, (turn * Math.PI) / 180));
  return new Matrix4().compose(new Vector3(x, y, z), turned, new Vector3(1, 1, 1));
}

/** The middle of a body's corners' bounds. @param {number[]} points */
function middle(points) {
  const low = new Vector3(Infinity, Infinity, Infinity);
  const high = low.clone().negate();
  for (let i = 0; i < points.length; i += 3) {
    const p = new Vector3(points[i], points[i + 1], points[i + 2]);
    low.min(p);
    high.max(p);
  }
  return low.add(high).divideScalar(2);
}

/** How many of a mesh's pieces are laid up to each step. @param {SceneData} data @param {number[]} own */
function counts(data, own) {
  return data.steps.map((_, step) => own.filter((i) => data.pieces[i][5] <= step).length);
}

/** One of a kind's tones, a little lighter or darker, by the piece's id. @param {string[]} tones @param {string} id */
function tone(tones, id) {
  const share = hash(id);
  const colour = new Color(tones[Math.floor(share * tones.length)]);
  return colour.multiplyScalar(tones.length > 1 ? 0.94 + 0.12 * ((share * 97) % 1) : 1);
}
