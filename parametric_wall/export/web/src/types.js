/**
 * What the page is given to show; `parametric_wall/export/scene.py` writes it.
 * Lengths in mm; x along the front, y to the back, z up from the ground.
 *
 * @typedef {object} ShapeData One distinct shape of one kind.
 * @property {string} kind
 * @property {string} size over all, for people
 * @property {number | null} mass_kg
 * @property {number[]} points x, y, z, x, y, z ... in the shape's own axes
 * @property {number[][][]} faces of each face its outline and then its holes
 *
 * @typedef {[
 *   shape: number, x: number, y: number, z: number, turn: number,
 *   step: number, id: string, cut: number, length: number,
 * ]} PieceRow
 *
 * @typedef {object} GroundData
 * @property {number} low underside as drawn
 * @property {[number, number, number, number]} rectangle least x and y, greatest x and y
 * @property {number[][][]} pits what is dug out for footings: outline and holes, x, y, x, y ...
 * @property {number} pit_low
 *
 * @typedef {object} BoxData
 * @property {[number, number, number, number]} at x, y, z and heading in degrees
 * @property {[number, number, number]} size
 *
 * @typedef {object} SizeData
 * @property {string} name
 * @property {string} text
 * @property {[number, number, number]} start
 * @property {[number, number, number]} end
 * @property {[number, number, number]} off
 *
 * @typedef {object} SceneData
 * @property {Record<string, string[]>} colours
 * @property {string[]} steps
 * @property {ShapeData[]} shapes
 * @property {PieceRow[]} pieces
 * @property {GroundData} ground
 * @property {BoxData[]} existing
 * @property {SizeData[]} sizes
 * @property {[number, number]} person
 *
 * @typedef {"footing" | "mortar" | "copings" | "soil" | "sizes" | "person" | "pit"} Part
 * @typedef {"off" | "across" | "along"} CutWay
 * @typedef {"pick" | "measure"} Mode
 * @typedef {"first" | "front" | "corner" | "above"} ViewName
 */

export {};
