// Words and lines in the view: the main sizes, and what is measured.
import {
  BufferGeometry,
  CanvasTexture,
  Group,
  LineBasicMaterial,
  LineSegments,
  Sprite,
  SpriteMaterial,
  SRGBColorSpace,
  Vector3,
} from "three";

/** @typedef {import("./types.js").SizeData} SizeData */
/** @typedef {import("three").PerspectiveCamera} Camera */

const INK = "#2b2a26";
const PAPER = "#fbf8f0";
const TEXT_PX = 15;
const TICK_MM = 32;
const TURNED_AWAY = -0.3; // cosine: a size on a far side is not drawn
const FROM_ABOVE = 0.85; // sine of a look so steep that no side is a far one

/** A label of so many pixels, however far away. @param {string} text @param {string} [colour] */
export function label(text, colour = INK) {
  const sharp = 3;
  const canvas = document.createElement("canvas");
  const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  const font = `600 ${TEXT_PX * sharp}px system-ui, "Segoe UI", Roboto, "DejaVu Sans", sans-serif`;
  pen.font = font;
  const width = Math.ceil(pen.measureText(text).width / sharp) + 12;
  const height = TEXT_PX + 9;
  canvas.width = width * sharp;
  canvas.height = height * sharp;
  pen.fillStyle = PAPER;
  pen.beginPath();
  pen.roundRect(sharp, sharp, canvas.width - 2 * sharp, canvas.height - 2 * sharp, 5 * sharp);
  pen.fill();
  pen.font = font;
  pen.fillStyle = colour;
  pen.textAlign = "center";
  pen.textBaseline = "middle";
  pen.fillText(text, canvas.width / 2, canvas.height / 2 + sharp);
  const texture = new CanvasTexture(canvas);
  texture.colorSpace = SRGBColorSpace;
  const material = new SpriteMaterial({ map: texture, sizeAttenuation: false, depthTest: false });
  const sprite = new Sprite(material);
  sprite.renderOrder = 100;
  sprite.userData.px = [width, height];
  return sprite;
}

/** Give a label its size in a view so many pixels high. @param {Sprite} sprite @param {Camera} camera @param {number} high */
export function scale(sprite, camera, high) {
  const one = (2 * Math.tan((camera.fov * Math.PI) / 360)) / high;
  sprite.scale.set(sprite.userData.px[0] * one, sprite.userData.px[1] * one, 1);
}

/** @param {Vector3[]} points in pairs @param {string} [colour] */
export function lines(points, colour = INK) {
  const drawn = new LineSegments(new BufferGeometry().setFromPoints(points), new LineBasicMaterial({ color: colour }));
  drawn.renderOrder = 90;
  return drawn;
}

/** The main sizes. @param {SizeData[]} sizes */
export function drawSizes(sizes) {
  const group = new Group();
  const drawn = sizes.map((size) => {
    const [from, to, off] = [size.start, size.end, size.off].map((p) => new Vector3(...p));
    const away = off.clone().normalize();
    const [a, b] = [from.clone().add(off), to.clone().add(off)];
    const tick = b.clone().sub(a).normalize().add(away).normalize().multiplyScalar(TICK_MM);
    const past = away.clone().multiplyScalar(TICK_MM);
    const near = away.clone().multiplyScalar(60);
    for (const p of [a, b, from, to]) p.z += 4; // just over the turf
    const line = lines([
      a, b,
      from.clone().add(near), a.clone().add(past),
      to.clone().add(near), b.clone().add(past),
      a.clone().sub(tick), a.clone().add(tick),
      b.clone().sub(tick), b.clone().add(tick),
    ]);
    const text = label(size.text);
    // Beside an upright size its foot's neighbours have their own words.
    const upright = a.x === b.x && a.y === b.y;
    text.position.lerpVectors(a, b, upright ? 0.7 : 0.5);
    group.add(line, text);
    return { a, b, away, upright, line, text };
  });
  return {
    group,
    /**
     * Hide the sizes that would be shorter than their own text, or lie over another.
     * @param {Camera} camera @param {number} wide @param {number} high
     */
    fit(camera, wide, high) {
      /** @type {number[][]} */ const taken = [];
      for (const { a, b, away, upright, line, text } of drawn) {
        const look = camera.position.clone().sub(text.position).normalize();
        const facing = upright || look.z > FROM_ABOVE || away.dot(look) > TURNED_AWAY;
        const [p, q, at] = [a, b, text.position].map((point) => point.clone().project(camera));
        const long = Math.hypot(((p.x - q.x) * wide) / 2, ((p.y - q.y) * high) / 2);
        const [x, y] = [(at.x * wide) / 2, (at.y * high) / 2];
        const [w, h] = text.userData.px;
        const free = taken.every(([ox, oy, ow]) => Math.abs(x - ox) > (w + ow) / 2 || Math.abs(y - oy) > h);
        line.visible = text.visible = facing && free && long > h && p.z < 1 && q.z < 1;
        if (text.visible) taken.push([x, y, w]);
        scale(text, camera, high);
      }
    },
    /** How many are drawn. */
    count: () => drawn.filter(({ text }) => text.visible).length,
  };
}
