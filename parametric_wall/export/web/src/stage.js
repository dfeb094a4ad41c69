// The stage that a job stands on: what is on it, the light, the paper behind.
import { DirectionalLight, HemisphereLight, Vector3 } from "three";
import { blot, marginOf, PERSON_MM, stand } from "./ground.js";
import { drawSizes, label } from "./labels.js";

/** @typedef {import("./types.js").SceneData} SceneData */
/** @typedef {import("three").Box3} Box3 */
/** @typedef {import("three").Scene} Scene */

const PAPER = ["#fdfaf3", "#e9e2d3"];

/** Which parts a job has. @param {SceneData} data */
export function partsOf(data) {
  const used = (/** @type {string} */ kind) => data.shapes.some((shape) => shape.kind === kind);
  return {
    footing: used("footing"),
    mortar: used("bed") || used("perp"),
    copings: used("coping"),
    soil: used("soil") || used("drainage"),
    sizes: data.sizes.length > 0,
    person: true,
    pit: data.ground.pits.length > 0,
  };
}

/** What is drawn from the second picture on: the wall comes first. @param {SceneData} data @param {Scene} scene */
export function drawOver(data, scene) {
  const [sizes, person] = [drawSizes(data.sizes), stand(data)];
  const tall = label(`${(PERSON_MM / 1000).toFixed(2)} m`, "#42545e");
  tall.position.set(0, 0, PERSON_MM + 60);
  tall.center.set(0.5, 0);
  person.add(tall);
  scene.add(blot(data), person, sizes.group);
  return { sizes, person, tall };
}

/**
 * What a cut closes, and how each is marked.
 * @param {import("./pieces.js").Pieces} pieces
 * @param {import("./ground.js").Ground} ground
 */
export function filledOf(pieces, ground) {
  /** @param {"plain" | "hatched" | "dotted"} mark @param {string} colour @param {string[]} kinds */
  const of = (mark, colour, kinds) => ({
    meshes: pieces.meshes.filter(({ kind }) => kinds.includes(kind)).map(({ mesh }) => mesh),
    colour,
    mark,
  });
  return [
    { meshes: [...ground.whole, ...ground.opened], colour: "#b9a582", mark: /** @type {const} */ ("plain") },
    { meshes: ground.existing, colour: "#c9beb0", mark: /** @type {const} */ ("hatched") },
    of("dotted", "#c4c2bb", ["footing"]),
    of("dotted", "#9b9a96", ["drainage"]),
    of("plain", "#6b5340", ["soil"]),
    of("plain", "#e4e1d6", ["bed", "perp", "filler", "coping bed", "coping joint"]),
    of("hatched", "#d6bd93", ["block"]),
    of("hatched", "#d3cdbf", ["coping"]),
  ].filter(({ meshes }) => meshes.length > 0);
}

/** What a view has to hold: the wall, the person, and most of the ground. @param {SceneData} data @param {Box3} box */
export function framed(data, box) {
  const [x, y] = data.person;
  const [x0, y0, x1, y1] = data.ground.rectangle;
  const out = 0.68 * marginOf(data); // its corners are round
  const points = [[x - 240, y, PERSON_MM + 200], [x + 240, y, PERSON_MM + 200], [x, y, 0]];
  for (const px of [x0 - out, x1 + out]) {
    for (const py of [y0 - out, y1 + out]) points.push([px, py, 0], [px, py, data.ground.low]);
  }
  for (const px of [box.min.x, box.max.x]) {
    for (const py of [box.min.y, box.max.y]) points.push([px, py, box.max.z]);
  }
  return points.map((p) => new Vector3(...p));
}

/** The sun from the left over one's shoulder, and the sky. @param {Scene} scene @param {Box3} box */
export function light(scene, box) {
  scene.add(new HemisphereLight("#ffffff", "#cbbfa8", 2.05));
  const sun = new DirectionalLight("#fff6e6", 2.0);
  const middle = box.getCenter(new Vector3());
  const reach = box.getSize(new Vector3()).length() * 0.62 + 500;
  sun.position.copy(middle).add(new Vector3(-0.55, -0.75, 1.05).multiplyScalar(reach * 1.5));
  sun.target.position.copy(middle);
  const px = reach > 5000 ? 2048 : 1024;
  sun.shadow.mapSize.set(px, px);
  sun.shadow.radius = 3;
  sun.shadow.normalBias = (3 * reach) / px; // a little more than a pixel: else stripes show
  sun.shadow.bias = -0.0004;
  Object.assign(sun.shadow.camera, { left: -reach, right: reach, top: reach, bottom: -reach, near: 1, far: reach * 5 });
  scene.add(sun, sun.target);
  return sun;
}

/** A picture on the sheet of paper that the page has behind the view. @param {HTMLCanvasElement} seen */
export function onPaper(seen) {
  const sheet = document.createElement("canvas");
  [sheet.width, sheet.height] = [seen.width, seen.height];
  const pen = /** @type {CanvasRenderingContext2D} */ (sheet.getContext("2d"));
  const [x, y] = [seen.width / 2, seen.height / 2];
  const shade = pen.createRadialGradient(x, y, 0, x, y, Math.hypot(x, y));
  shade.addColorStop(0, PAPER[0]);
  shade.addColorStop(1, PAPER[1]);
  pen.fillStyle = shade;
  pen.fillRect(0, 0, seen.width, seen.height);
  pen.drawImage(seen, 0, 0);
  return sheet;
}
