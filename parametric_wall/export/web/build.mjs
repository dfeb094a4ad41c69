// Bundles the page's script into one file: node build.mjs [OUT]
// The same source and the same versions give the same bytes.
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const licence = readFileSync(new URL("LICENSE.three.txt", import.meta.url), "utf8").trim();

await build({
  absWorkingDir: fileURLToPath(new URL(".", import.meta.url)),
  entryPoints: ["src/main.js"],
  outfile: process.argv[2] ?? "page.js",
  bundle: true,
  minify: true,
  format: "iife",
  target: "es2021",
  charset: "ascii",
  legalComments: "none",
  banner: { js: `/* three.js\n${licence}\n*/` },
  logLevel: "warning",
});
