// Shows a job in an element: the whole scene, and what can be done with it.
import {
  Box3,
  DirectionalLight,
  EdgesGeometry,
  Group,
  HemisphereLight,
  LineBasicMaterial,
  LineSegments,
  PCFShadowMap,
  Scene,
  Vector2,
  Vector3,
  WebGLRenderer,
} from "three";
import { blot, layGround, marginOf, plant, stand, PERSON_MM } from "./ground.js";
import { drawSizes, label, lines, scale } from "./labels.js";
import { lookAt } from "./looking.js";
import { layPieces } from "./pieces.js";
import { pickFrom } from "./picking.js";
import { sectionOf } from "./section.js";

/** @typedef {import("./types.js").SceneData} SceneData */
/** @typedef {import("./types.js").Part} Part */
/** @typedef {import("./types.js").CutWay} CutWay */
/** @typedef {import("./types.js").Mode} Mode */
/** @typedef {import("./types.js").ViewName} ViewName */
/** @typedef {ReturnType<typeof show>} Viewer */

const PICKED = "#d9822b";
const MEASURED = "#8a2d12";
const PAPER = ["#fdfaf3", "#e9e2d3"];

/**
 * Show a job.
 * @param {SceneData} data
 * @param {HTMLElement} element takes the canvas, and gives its size
 * @throws where the browser has no WebGL
 */
export function show(data, element) {
  const canvas = document.createElement("canvas");
  // Asked for here: what three.js says where there is none would be an error on the console.
  const context = canvas.getContext("webgl2", { antialias: true, alpha: true, stencil: true });
  if (!context) throw new Error("no WebGL");
  const renderer = new WebGLRenderer({ canvas, context, antialias: true, alpha: true, stencil: true });
  renderer.debug.checkShaderErrors = false; // to ask whether a program is sound is to wait for it
  renderer.localClippingEnabled = true;
  renderer.shadowMap.enabled = true;
  renderer.shadowMap.type = PCFShadowMap;
  renderer.shadowMap.autoUpdate = false;
  element.append(canvas);

  const scene = new Scene();
  const pieces = layPieces(data);
  const ground = layGround(data);
  const plants = plant(data);
  const marks = new Group();
  /** @type {ReturnType<typeof drawOver> | null} */ let over = null;
  scene.add(pieces.group, ground.group, plants.mesh, marks);

  const box = new Box3();
  for (const { mesh } of pieces.meshes) {
    mesh.computeBoundingBox();
    if (mesh.boundingBox) box.union(mesh.boundingBox);
  }
  box.min.z = 0;
  const sun = light(scene, box);
  /** @type {ReturnType<typeof sectionOf> | null} */ let section = null;

  const last = data.steps.length - 1;
  const has = {
    footing: used("footing"),
    mortar: used("bed") || used("perp"),
    copings: used("coping"),
    soil: used("soil") || used("drainage"),
    sizes: data.sizes.length > 0,
    person: true,
    pit: ground.canOpen,
  };
  const shown = { footing: true, mortar: true, copings: true, soil: true, sizes: true, person: true, pit: false };
  let step = last;
  let apart = 0;
  let cut = { way: /** @type {CutWay} */ ("off"), share: 0.5 };
  /** @type {Mode} */ let mode = "pick";
  let picked = -1;
  /** @type {LineSegments | null} */ let outline = null;
  /** @type {Vector3[]} */ let measured = [];
  let frames = 0;
  let waiting = 0;
  let wide = 1;
  let high = 1;
  /** @type {Set<() => void>} */ const listeners = new Set();

  const looking = lookAt(canvas, framed(data, box), () => draw());
  const picker = pickFrom(data, pieces, looking.camera, () => (cut.way === "off" || !section ? null : section.plane));

  /** @param {string} kind */
  function used(kind) {
    return data.shapes.some((shape) => shape.kind === kind);
  }

  /** What is drawn from the second picture on: the wall comes first. */
  function drawOver() {
    const [sizes, person] = [drawSizes(data.sizes), stand(data)];
    const tall = label(`${(PERSON_MM / 1000).toFixed(2)} m`, "#42545e");
    tall.position.set(0, 0, PERSON_MM + 120);
    person.add(tall);
    scene.add(blot(data), person, sizes.group);
    return { sizes, person, tall };
  }

  function filled() {
    /** @param {string} part @param {"plain" | "hatched" | "dotted"} mark @param {string} colour @param {string[]} kinds */
    const of = (part, mark, colour, kinds) => ({
      meshes: pieces.meshes.filter(({ kind }) => kinds.includes(kind)).map(({ mesh }) => mesh),
      colour,
      mark,
      part,
    });
    return [
      { meshes: [...ground.whole, ...ground.opened], colour: "#b9a582", mark: /** @type {const} */ ("plain") },
      { meshes: ground.existing, colour: "#c9beb0", mark: /** @type {const} */ ("hatched") },
      of("footing", "dotted", "#c4c2bb", ["footing"]),
      of("soil", "dotted", "#9b9a96", ["drainage"]),
      of("soil", "plain", "#6b5340", ["soil"]),
      of("mortar", "plain", "#e4e1d6", ["bed", "perp", "filler", "coping bed", "coping joint"]),
      of("blocks", "hatched", "#d6bd93", ["block"]),
      of("copings", "hatched", "#a9a39b", ["coping"]),
    ].filter(({ meshes }) => meshes.length > 0);
  }

  function clipped() {
    return [...Object.values(pieces.materials), ...ground.materials, plants.material];
  }

  /** Draw soon, once however much has changed. @param {boolean} [shadows] whether shadows have too */
  function draw(shadows = false) {
    if (shadows) renderer.shadowMap.needsUpdate = true;
    waiting ||= requestAnimationFrame(paint);
  }

  function paint() {
    cancelAnimationFrame(waiting);
    waiting = 0;
    section?.follow();
    if (over) {
      const [eye, { position, rotation }] = [looking.camera.position, over.person];
      rotation.z = Math.atan2(eye.x - position.x, position.y - eye.y);
      over.person.visible = shown.person && eye.clone().sub(position).normalize().z < 0.85; // flat from above
      over.sizes.fit(looking.camera, wide, high);
      scale(over.tall, looking.camera, high);
    }
    for (const mark of marks.children) if ("isSprite" in mark) scale(/** @type {import("three").Sprite} */ (mark), looking.camera, high);
    renderer.render(scene, looking.camera);
    frames += 1;
  }

  /** Bring the scene up to what was asked for. */
  function settle() {
    pieces.setStep(step);
    for (const part of /** @type {Part[]} */ (["footing", "mortar", "copings", "soil"])) pieces.setShown(part, shown[part]);
    plants.mesh.visible = shown.soil && step === last && has.soil;
    plants.mesh.position.z = apart * 150 * (last + (data.steps[0] === "Footing" ? 0 : 1));
    plants.mesh.scale.set(1, 1, 1);
    if (over) {
      over.sizes.group.visible = shown.sizes && apart === 0 && cut.way === "off";
    }
    if (cut.way !== "off" && !section) {
      if (has.pit) ground.setOpen(true); // so that the pit's own faces are closed too
      section = sectionOf(filled(), clipped(), box.getSize(new Vector3()).length() * 2 + 4000);
      scene.add(section.group);
    }
    const footingOnly = data.steps[step] === "Footing";
    ground.setOpen(shown.pit || (footingOnly && has.pit));
    const [from, to] = range(cut.way);
    section?.set(cut.way, from + (to - from) * cut.share + 0.013); // never just on a face
    if (picked >= 0 && !pieces.isDrawn(picked)) unpick();
    follow();
    draw(true);
    for (const listener of listeners) listener();
  }

  /** @param {CutWay} way */
  function range(way) {
    return way === "along" ? [box.min.y, box.max.y] : [box.min.x, box.max.x];
  }

  function unpick() {
    if (picked >= 0) pieces.tint(picked, null);
    if (outline) scene.remove(outline);
    outline?.geometry.dispose();
    outline = null;
    picked = -1;
  }

  /** @param {number} i */
  function pick(i) {
    unpick();
    picked = i;
    pieces.tint(i, PICKED);
    const mesh = pieces.meshes.find(({ own }) => own.includes(i))?.mesh;
    if (!mesh) return;
    outline = new LineSegments(new EdgesGeometry(mesh.geometry, 20), new LineBasicMaterial({ color: "#5a2c00", depthTest: false }));
    outline.renderOrder = 80;
    outline.matrixAutoUpdate = false;
    scene.add(outline);
    follow();
  }

  /** Keep the outline on its piece. */
  function follow() {
    if (outline) outline.matrix.copy(pieces.matrixOf(picked));
  }

  function mark() {
    for (const child of [...marks.children]) marks.remove(child);
    const reach = looking.controls.getDistance() * 0.006;
    for (const p of measured) {
      const [x, y, z] = [new Vector3(reach, 0, 0), new Vector3(0, reach, 0), new Vector3(0, 0, reach)];
      const ends = [x, y, z].flatMap((d) => [p.clone().sub(d), p.clone().add(d)]);
      marks.add(onTop(lines(ends, MEASURED)));
    }
    if (measured.length === 2) {
      const [a, b] = measured;
      const text = label(`${Math.round(a.distanceTo(b))} mm`, MEASURED);
      text.position.copy(a).add(b).divideScalar(2);
      marks.add(onTop(lines([a, b], MEASURED)), text);
    }
  }

  const viewer = {
    canvas,
    steps: data.steps,
    has,
    /** @param {number} to */
    setStep(to) {
      step = Math.max(0, Math.min(last, to));
      settle();
    },
    /** @param {number} share 0 to 1 */
    setApart(share) {
      apart = share;
      pieces.setApart(share);
      measured = [];
      mark();
      settle();
    },
    /** @param {CutWay} way @param {number} share 0 to 1 of the way through */
    setCut(way, share) {
      cut = { way, share };
      settle();
    },
    /** @param {Part} part @param {boolean} on */
    setShown(part, on) {
      shown[part] = on;
      settle();
    },
    /** @param {Mode} to */
    setMode(to) {
      mode = to;
      measured = [];
      mark();
      if (to === "measure") unpick();
      settle();
    },
    /** @param {ViewName} name */
    look(name) {
      looking.go(name);
      draw();
    },
    looking,
    /** Pick or measure what lies there. @param {number} x @param {number} y px from the canvas' corner */
    touch(x, y) {
      const at = new Vector2((2 * x) / wide - 1, 1 - (2 * y) / high);
      const hiding = [...ground.whole, ...ground.opened, ...ground.existing];
      if (mode === "measure") {
        const point = picker.point(at, wide, high, hiding);
        if (point) measured = measured.length === 2 ? [point] : [...measured, point];
        mark();
      } else {
        const found = picker.hit(at, hiding);
        if (found) pick(found.piece);
        else unpick();
      }
      settle();
    },
    /** Pick the next piece that is drawn, or the one before. @param {1 | -1} way */
    pickNext(way) {
      const count = data.pieces.length;
      let i = picked < 0 && way < 0 ? 0 : picked;
      for (let tried = 0; tried < count; tried++) {
        i = (i + way + count) % count;
        if (pieces.isDrawn(i)) {
          pick(i);
          break;
        }
      }
      settle();
    },
    clear() {
      unpick();
      measured = [];
      mark();
      settle();
    },
    /** The view as a PNG. */
    picture() {
      paint();
      return new Promise((/** @type {(blob: Blob | null) => void} */ done) => onPaper(canvas).toBlob(done, "image/png"));
    },
    /** Be told of every change. @param {() => void} listener */
    listen(listener) {
      listeners.add(listener);
    },
    /** What is shown, as plain data. */
    state() {
      const eye = looking.camera.position;
      return {
        pieces: data.pieces.length,
        drawn: pieces.drawn(),
        steps: [...data.steps],
        step,
        apart,
        cut: { ...cut },
        shown: { ...shown },
        has: { ...has },
        open: ground.isOpen(),
        mode,
        picked: picked < 0 ? null : pieces.about(picked),
        measured: measured.map((p) => p.toArray().map((v) => Math.round(v * 10) / 10)),
        distance_mm: measured.length === 2 ? measured[0].distanceTo(measured[1]) : null,
        whole: over !== null,
        sizes: over?.sizes.group.visible ? over.sizes.count() : 0,
        view: looking.view(),
        eye: eye.toArray(),
        target: looking.controls.target.toArray(),
        frames,
      };
    },
    dispose() {
      watch.disconnect();
      cancelAnimationFrame(waiting);
      looking.dispose();
      renderer.dispose();
      canvas.remove();
    },
  };

  function resize() {
    if (wide === element.clientWidth && high === element.clientHeight) return;
    wide = Math.max(1, element.clientWidth);
    high = Math.max(1, element.clientHeight);
    renderer.setPixelRatio(Math.min(2, window.devicePixelRatio));
    renderer.setSize(wide, high);
    looking.resize(wide, high);
    draw();
  }

  const watch = new ResizeObserver(resize);
  watch.observe(element);
  resize();
  settle();
  paint();
  performance.mark("shown");
  // Shadows, sizes and the person come with the second picture: the wall is there sooner.
  setTimeout(() => {
    over = drawOver();
    sun.castShadow = true;
    settle();
    paint();
    performance.mark("whole");
  });
  return viewer;
}

/** What a view has to hold: the wall, the person, and most of the ground. @param {SceneData} data @param {Box3} box */
function framed(data, box) {
  const [x, y] = data.person;
  const [x0, y0, x1, y1] = data.ground.rectangle;
  const out = 0.6 * marginOf(data); // its corners are round
  const points = [[x - 240, y, PERSON_MM + 200], [x + 240, y, PERSON_MM + 200], [x, y, 0]];
  for (const px of [x0 - out, x1 + out]) {
    for (const py of [y0 - out, y1 + out]) points.push([px, py, 0], [px, py, data.ground.low]);
  }
  for (const px of [box.min.x, box.max.x]) {
    for (const py of [box.min.y, box.max.y]) points.push([px, py, box.max.z]);
  }
  return points.map((p) => new Vector3(...p));
}

/** @param {LineSegments} line */
function onTop(line) {
  /** @type {LineBasicMaterial} */ (line.material).depthTest = false;
  return line;
}

/** The sun from the left over one's shoulder, and the sky. @param {Scene} scene @param {Box3} box */
function light(scene, box) {
  scene.add(new HemisphereLight("#ffffff", "#cbbfa8", 2.05));
  const sun = new DirectionalLight("#fff6e6", 2.0);
  const middle = box.getCenter(new Vector3());
  const reach = box.getSize(new Vector3()).length() * 0.62 + 500;
  sun.position.copy(middle).add(new Vector3(-0.55, -0.75, 1.05).multiplyScalar(reach * 1.5));
  sun.target.position.copy(middle);
  sun.shadow.mapSize.set(1024, 1024);
  sun.shadow.radius = 3;
  sun.shadow.normalBias = reach / 700;
  sun.shadow.bias = -0.0004;
  Object.assign(sun.shadow.camera, { left: -reach, right: reach, top: reach, bottom: -reach, near: 1, far: reach * 5 });
  scene.add(sun, sun.target);
  return sun;
}

/** A picture on the sheet of paper that the page has behind the view. @param {HTMLCanvasElement} seen */
function onPaper(seen) {
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
