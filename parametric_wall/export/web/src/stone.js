// What the pieces are made of: slight tones, softened arrises, a grain.
import { MeshLambertMaterial } from "three";

/** @typedef {import("three").Plane} Plane */

const VERTEX = `
attribute vec3 rim;
attribute float inset;
#ifdef USE_INSTANCING
attribute float seed;
#endif
varying vec3 vRim;
varying float vInset;
varying vec3 vGrain;
`;

const VERTEX_MAIN = `
#include <begin_vertex>
vec3 rimTurned = rim;
vGrain = position;
#ifdef USE_INSTANCING
rimTurned = mat3( instanceMatrix ) * rimTurned;
vGrain += vec3( seed * 977.0, seed * 1597.0, seed * 3571.0 );
#endif
vRim = normalMatrix * rimTurned;
vInset = inset;
`;

const FRAGMENT = `
uniform float uArris;
uniform float uGrain;
varying vec3 vRim;
varying float vInset;
varying vec3 vGrain;
float wallHash( vec3 p ) {
  p = fract( p * 0.3183099 + vec3( 0.11, 0.17, 0.13 ) );
  p *= 17.0;
  return fract( p.x * p.y * p.z * ( p.x + p.y + p.z ) );
}
float wallNoise( vec3 x ) {
  vec3 i = floor( x );
  vec3 f = fract( x );
  f = f * f * ( 3.0 - 2.0 * f );
  return mix( mix( mix( wallHash( i ), wallHash( i + vec3( 1, 0, 0 ) ), f.x ),
      mix( wallHash( i + vec3( 0, 1, 0 ) ), wallHash( i + vec3( 1, 1, 0 ) ), f.x ), f.y ),
    mix( mix( wallHash( i + vec3( 0, 0, 1 ) ), wallHash( i + vec3( 1, 0, 1 ) ), f.x ),
      mix( wallHash( i + vec3( 0, 1, 1 ) ), wallHash( i + vec3( 1, 1, 1 ) ), f.x ), f.y ), f.z );
}
`;

const FRAGMENT_COLOUR = `
#include <color_fragment>
float perPixel = fwidth( vInset );
float arris = clamp( 1.0 - vInset / max( uArris, min( perPixel, uArris * 4.0 ) ), 0.0, 1.0 );
arris *= step( 0.001, uArris );
float grain = wallNoise( vGrain * 0.02 ) * 0.6 + wallNoise( vGrain * 0.11 ) * 0.4 - 0.5;
diffuseColor.rgb *= 1.0 + uGrain * grain;
diffuseColor.rgb *= 1.0 - 0.16 * arris;
`;

const FRAGMENT_NORMAL = `
#include <normal_fragment_begin>
normal = normalize( normal + faceDirection * vRim * arris * 0.8 );
`;

/**
 * A dull material.
 * @param {object} how
 * @param {string} [how.colour] of what has no colour of its own a piece
 * @param {number} [how.arris] mm over which an arris is softened
 * @param {number} [how.grain] how much the tone varies within a piece, 0 to 1
 */
export function stone({ colour = "#ffffff", arris = 0, grain = 0 }) {
  const material = new MeshLambertMaterial({ color: colour });
  material.clipShadows = true;
  material.onBeforeCompile = (shader) => {
    shader.uniforms.uArris = { value: arris };
    shader.uniforms.uGrain = { value: grain };
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
