// Prints what another library reads in one DXF file as JSON: header, entities, block names.
import { readFileSync } from "node:fs";
import DxfParser from "dxf-parser";

const parser = new (DxfParser.DxfParser ?? DxfParser.default ?? DxfParser)();
const found = parser.parseSync(readFileSync(process.argv[2], "utf8"));
const { header, entities, blocks } = found;
console.log(JSON.stringify({ header, entities, blocks }));
