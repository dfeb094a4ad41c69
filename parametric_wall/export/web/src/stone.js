// What everything solid is made of: a tone of its own, softened arrises, a grain.
// One program draws it all: to make a program takes longer than to draw a wall.
import {
  BufferGeometry,
  Color,
  DataTexture,
  Float32BufferAttribute,
  InstancedBufferAttribute,
  InstancedMesh,
  LinearFilter,
  LinearMipmapLinearFilter,
  Matrix4,
  MeshLambertMaterial,
  RedFormat,
  RepeatWrapping,
} from "three";

const GRAIN_PX = 128;

const VERTEX = `
attribute vec3 rim;
attribute float inset;
attribute float seed;
varying vec3 vRim;
varying float vInset;
varying vec3 vGrain;
`;

const VERTEX_MAIN = `
#include <begin_vertex>
vGrain = position + seed * vec3( 977.0, 1597.0, 3571.0 );
vRim = normalMatrix * ( mat3( instanceMatrix ) * rim );
vInset = inset;
`;

const FRAGMENT = `
uniform float uArris;
uniform float uGrain;
uniform float uSpan;
uniform sampler2D uGrains;
varying vec3 vRim;
varying float vInset;
varying vec3 vGrain;
`;

// The first picture, which has no shadows, has neither grain nor arrises: it is there sooner.
const FRAGMENT_COLOUR = `
#include <color_fragment>
#if NUM_DIR_LIGHT_SHADOWS > 0
float perPixel = fwidth( vInset );
float arris = clamp( 1.0 - vInset / max( uArris, min( perPixel, uArris * 4.0 ) ), 0.0, 1.0 );
arris *= step( 0.001, uArris );
vec2 at = vec2( vGrain.x + 0.7 * vGrain.y, vGrain.z + 0.7 * vGrain.y ) / uSpan;
float grain = texture2D( uGrains, at ).r - 0.5;
diffuseColor.rgb *= 1.0 + uGrain * grain;
diffuseColor.rgb *= 1.0 - 0.16 * arris;
#endif
`;

const FRAGMENT_NORMAL = `
#include <normal_fragment_begin>
#if NUM_DIR_LIGHT_SHADOWS > 0
normal = normalize( normal + faceDirection * vRim * arris * 0.8 );
#endif
`;

/**
 * A dull material, for instanced meshes that have a colour a piece.
 * @param {object} how
 * @param {number} [how.arris] mm over which an arris is softened
 * @param {number} [how.grain] how much the tone varies within a piece, 0 to 1
 * @param {number} [how.span] mm after which the grain repeats
 */
export function stone({ arris = 0, grain = 0, span = 640 }) {
  const material = new MeshLambertMaterial();
  material.clipShadows = true;
  material.onBeforeCompile = (shader) => {
    shader.uniforms.uArris = { value: arris };
    shader.uniforms.uGrain = { value: grain };
    shader.uniforms.uSpan = { value: span };
    shader.uniforms.uGrains = { value: (grains ??= grainsOf()) };
    shader.vertexShader = VERTEX + shader.vertexShader.replace("#include <begin_vertex>", VERTEX_MAIN);
    shader.fragmentShader =
      FRAGMENT +
      shader.fragmentShader
        .replace("#include <color_fragment>", FRAGMENT_COLOUR)
        .replace("#include <normal_fragment_begin>", FRAGMENT_NORMAL);
  };
  material.customProgramCacheKey = () => "stone";
  return material;
}

/** A number from 0 to 1 that belongs to a text, the same everywhere. @param {string} text */
export function hash(text) {
  let found = 2166136261;
  for (let i = 0; i < text.length; i++) {
    found = Math.imul(found ^ text.charCodeAt(i), 16777619);
  }
  found ^= found >>> 15;
  found = Math.imul(found, 2246822519);
  found ^= found >>> 13;
  return (found >>> 0) / 4294967296;
}

/**
 * A mesh of one body, or of several alike.
 * @param {BufferGeometry} geometry with rim and inset
 * @param {MeshLambertMaterial} material
 * @param {Matrix4[]} places
 * @param {Color[]} colours
 * @param {number[]} [seeds] 0 to 1, for the grain to differ
 */
export function instances(geometry, material, places, colours, seeds = places.map(() => 0)) {
  geometry.setAttribute("seed", new InstancedBufferAttribute(new Float32Array(seeds), 1));
  const mesh = new InstancedMesh(geometry, material, places.length);
  places.forEach((place, i) => mesh.setMatrixAt(i, place));
  colours.forEach((colour, i) => mesh.setColorAt(i, colour));
  mesh.castShadow = mesh.receiveShadow = true;
  mesh.frustumCulled = false;
  return mesh;
}

/** A geometry without arrises. @param {BufferGeometry} given */
export function plain(given) {
  const geometry = given.index ? given.toNonIndexed() : given;
  const count = geometry.getAttribute("position").count;
  geometry.setAttribute("rim", new Float32BufferAttribute(new Float32Array(count * 3), 3));
  geometry.setAttribute("inset", new Float32BufferAttribute(new Float32Array(count).fill(1e4), 1));
  return geometry;
}

/** @type {DataTexture | null} */ let grains = null;

/** Spots of three sizes that repeat without a seam. */
function grainsOf() {
  const bytes = new Uint8Array(GRAIN_PX * GRAIN_PX);
  for (const [cells, share] of [[8, 115], [32, 76], [GRAIN_PX, 64]]) {
    const values = Float32Array.from({ length: cells * cells }, () => share * next());
    for (let y = 0, at = 0; y < GRAIN_PX; y++) {
      for (let x = 0; x < GRAIN_PX; x++, at++) bytes[at] += between(values, cells, x, y);
    }
  }
  const texture = new DataTexture(bytes, GRAIN_PX, GRAIN_PX, RedFormat);
  texture.wrapS = texture.wrapT = RepeatWrapping;
  texture.magFilter = LinearFilter;
  texture.minFilter = LinearMipmapLinearFilter;
  texture.generateMipmaps = true;
  texture.needsUpdate = true;
  return texture;
}

/** Between the values of a lattice, smoothly. @param {Float32Array} values @param {number} cells @param {number} x @param {number} y */
function between(values, cells, x, y) {
  const size = GRAIN_PX / cells;
  const i = Math.floor(x / size);
  const j = Math.floor(y / size);
  const u = smooth(x / size - i);
  const v = smooth(y / size - j);
  const [i1, j0, j1] = [(i + 1) % cells, j * cells, ((j + 1) % cells) * cells];
  const low = values[j0 + i] + (values[j0 + i1] - values[j0 + i]) * u;
  const high = values[j1 + i] + (values[j1 + i1] - values[j1 + i]) * u;
  return low + (high - low) * v;
}

/** @param {number} t */
function smooth(t) {
  return t * t * (3 - 2 * t);
}

let dice = 7;

/** The next of a row of numbers from 0 to 1 that is always the same. */
function next() {
  dice = (Math.imul(dice, 1664525) + 1013904223) >>> 0;
  return dice / 4294967296;
}
