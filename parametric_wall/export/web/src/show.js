// Shows a job in an element: the whole scene, and what can be done with it.
import { Box3, PCFShadowMap, Scene, Vector2, Vector3, WebGLRenderer } from "three";
import { layGround, plant } from "./ground.js";
import { scale } from "./labels.js";
import { lookAt } from "./looking.js";
import { outlineOf, rule } from "./marks.js";
import { layPieces } from "./pieces.js";
import { pickFrom } from "./picking.js";
import { sectionOf } from "./section.js";
import { drawOver, filledOf, framed, light, onPaper, partsOf } from "./stage.js";

/** @typedef {import("./types.js").SceneData} SceneData */
/** @typedef {import("./types.js").Part} Part */
/** @typedef {import("./types.js").CutWay} CutWay */
/** @typedef {import("./types.js").Mode} Mode */
/** @typedef {import("./types.js").ViewName} ViewName */
/** @typedef {ReturnType<typeof show>} Viewer */

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
  const outline = outlineOf(pieces);
  const measure = rule();
  /** @type {ReturnType<typeof drawOver> | null} */ let over = null;
  scene.add(pieces.group, ground.group, plants.mesh, outline.group, measure.group);

  const box = new Box3();
  for (const { mesh } of pieces.meshes) {
    mesh.computeBoundingBox();
    if (mesh.boundingBox) box.union(mesh.boundingBox);
  }
  box.min.z = 0;
  const sun = light(scene, box);
  /** @type {ReturnType<typeof sectionOf> | null} */ let section = null;

  const last = data.steps.length - 1;
  const has = partsOf(data);
  const shown = { footing: true, mortar: true, copings: true, soil: true, sizes: true, person: true, pit: false };
  let step = last;
  let apart = 0;
  let cut = { way: /** @type {CutWay} */ ("off"), share: 0.5 };
  /** @type {Mode} */ let mode = "pick";
  let frames = 0;
  let waiting = 0;
  let wide = 1;
  let high = 1;
  /** @type {Set<() => void>} */ const listeners = new Set();

  const looking = lookAt(canvas, framed(data, box), () => draw());
  const picker = pickFrom(data, pieces, looking.camera, () => (cut.way === "off" || !section ? null : section.plane));

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
    measure.fit(looking.camera, high);
    renderer.render(scene, looking.camera);
    frames += 1;
  }

  /** Bring the scene up to what was asked for. */
  function settle() {
    pieces.setStep(step);
    for (const part of /** @type {Part[]} */ (["footing", "mortar", "copings", "soil"])) pieces.setShown(part, shown[part]);
    plants.mesh.visible = shown.soil && step === last && has.soil;
    plants.mesh.position.z = apart * pieces.liftOf(last);
    if (over) over.sizes.group.visible = shown.sizes && apart === 0 && cut.way === "off";
    if (cut.way !== "off" && !section) {
      if (has.pit) ground.setOpen(true); // so that the pit's own faces are closed too
      section = sectionOf(filledOf(pieces, ground), clipped(), box.getSize(new Vector3()).length() * 2 + 4000);
      scene.add(section.group);
    }
    const footingOnly = data.steps[step] === "Footing";
    ground.setOpen(shown.pit || (footingOnly && has.pit));
    const [from, to] = range(cut.way);
    section?.set(cut.way, from + (to - from) * cut.share + 0.013); // never just on a face
    if (outline.piece() >= 0 && !pieces.isDrawn(outline.piece())) outline.pick(-1);
    outline.follow();
    draw(true);
    for (const listener of listeners) listener();
  }

  /** @param {CutWay} way */
  function range(way) {
    return way === "along" ? [box.min.y, box.max.y] : [box.min.x, box.max.x];
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
      measure.set([]);
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
      measure.set([]);
      if (to === "measure") outline.pick(-1);
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
        const before = measure.points();
        const reach = looking.controls.getDistance() * 0.006;
        if (point) measure.set(before.length === 2 ? [point] : [...before, point], reach);
      } else {
        outline.pick(picker.hit(at, hiding)?.piece ?? -1);
      }
      settle();
    },
    /** Pick the next piece that is drawn, or the one before. @param {1 | -1} way */
    pickNext(way) {
      const count = data.pieces.length;
      let i = outline.piece() < 0 && way < 0 ? 0 : outline.piece();
      for (let tried = 0; tried < count; tried++) {
        i = (i + way + count) % count;
        if (pieces.isDrawn(i)) {
          outline.pick(i);
          break;
        }
      }
      settle();
    },
    clear() {
      outline.pick(-1);
      measure.set([]);
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
        picked: outline.piece() < 0 ? null : pieces.about(outline.piece()),
        measured: measure.points().map((p) => p.toArray().map((v) => Math.round(v * 10) / 10)),
        distance_mm: measure.distance(),
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
    renderer.setDrawingBufferSize(wide, high, Math.min(2, window.devicePixelRatio));
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
    over = drawOver(data, scene);
    sun.castShadow = true;
    settle();
    paint();
    performance.mark("whole");
  });
  return viewer;
}
