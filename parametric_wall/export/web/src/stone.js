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
uniform sampler2D uGrains;
varying vec3 vRim;
varying float vInset;
varying vec3 vGrain;
`;

const FRAGMENT_COLOUR = `
#include <color_fragment>
float perPixel = fwidth( vInset );
float arris = clamp( 1.0 - vInset / max( uArris, min( perPixel, uArris * 4.0 ) ), 0.0, 1.0 );
arris *= step( 0.001, uArris );
vec2 at = vec2( vGrain.x + 0.7 * vGrain.y, vGrain.z + 0.7 * vGrain.y ) / 640.0;
float grain = texture2D( uGrains, at ).r - 0.5;
diffuseColor.rgb *= 1.0 + uGrain * grain;
diffuseColor.rgb *= 1.0 - 0.16 * arris;
`;

const FRAGMENT_NORMAL = `
#include <normal_fragment_begin>
normal = normalize( normal + faceDirection * vRim * arris * 0.8 );
`;

/**
 * A dull material, for instanced meshes that have a colour a piece.
 * @param {object} how
 * @param {number} [how.arris] mm over which an arris is softened
 * @param {number} [how.grain] how much the tone varies within a piece, 0 to 1
 */
export function stone({ arris = 0, grain = 0 }) {
  const material = new MeshLambertMaterial();
  material.clipShadows = true;
  material.onBeforeCompile = (shader) => {
    shader.uniforms.uArris = { value: arris };
    shader.uniforms.uGrain = { value: grain };
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
  const layers = [[8, 0.45], [24, 0.3], [64, 0.25]].map(([cells, share]) => {
    const values = Array.from({ length: cells * cells }, (_, i) => hash(`${cells} ${i}`));
    return { cells, share, values };
  });
  for (let y = 0; y < GRAIN_PX; y++) {
    for (let x = 0; x < GRAIN_PX; x++) {
      let sum = 0;
      for (const { cells, share, values } of layers) sum += share * between(values, cells, (x * cells) / GRAIN_PX, (y * cells) / GRAIN_PX);
      bytes[y * GRAIN_PX + x] = Math.round(255 * sum);
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

/** Between the values of a lattice, smoothly. @param {number[]} values @param {number} cells @param {number} x @param {number} y */
function between(values, cells, x, y) {
  const [i, j] = [Math.floor(x), Math.floor(y)];
  const [u, v] = [x - i, y - j].map((t) => t * t * (3 - 2 * t));
  const at = (/** @type {number} */ a, /** @type {number} */ b) => values[(b % cells) * cells + (a % cells)];
  const low = at(i, j) + (at(i + 1, j) - at(i, j)) * u;
  const high = at(i, j + 1) + (at(i + 1, j + 1) - at(i, j + 1)) * u;
  return low + (high - low) * v;
}
