// Runs Ghostscript as npm's @okathira/ghostpdl-wasm brings it: node gs.mjs FOLDER ARGUMENT ...
// FOLDER: that of node's packages. Ghostscript has a copy of the files of the current folder; what it
// writes as made.pdf is copied back.
import { readFileSync, readdirSync, statSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { pathToFileURL } from "node:url";

const [folder, ...args] = process.argv.slice(2);
const where = createRequire(folder + "/").resolve("@okathira/ghostpdl-wasm");
const { default: load } = await import(pathToFileURL(where).href);
const gs = await load();
for (const name of readdirSync(".")) {
  if (statSync(name).isFile()) gs.FS.writeFile(name, readFileSync(name));
}
const code = gs.callMain(args);
if (code !== 0) process.exit(code);
if (gs.FS.readdir(".").includes("made.pdf")) writeFileSync("made.pdf", gs.FS.readFile("made.pdf"));
process.exit(0);
