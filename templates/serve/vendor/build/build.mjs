// Writes templates/serve/vendor from the packages of package-lock.json; `npm ci --ignore-scripts` first.
// The same packages give the same bytes: `node build.mjs --check` fails where they would not.
import { readFileSync, readdirSync, writeFileSync, existsSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { build, transform } from "esbuild";

const here = dirname(fileURLToPath(import.meta.url));
const out = join(here, "..");
const modules = join(here, "node_modules");

const { outputFiles, metafile } = await build({
  entryPoints: [join(here, "editor.mjs")],
  absWorkingDir: here,
  bundle: true,
  minify: true,
  format: "esm",
  target: "es2022",
  charset: "utf8",
  legalComments: "none",
  metafile: true,
  write: false,
});
const names = [...new Set(Object.keys(metafile.inputs).flatMap(path => path.match(/^node_modules\/((?:@[^/]+\/)?[^/]+)/)?.[1] ?? []))].sort();
const licences = names.map(name => {
  const own = join(modules, name);
  const { version, license } = JSON.parse(readFileSync(join(own, "package.json"), "utf8"));
  const file = readdirSync(own).find(entry => /^licen[cs]e/i.test(entry));
  return `${name} ${version} (${license})\n\n${file ? readFileSync(join(own, file), "utf8").trim() : ""}\n`;
});
const idiomorph = join(modules, "idiomorph");
const { version } = JSON.parse(readFileSync(join(idiomorph, "package.json"), "utf8"));
const morph = await transform(readFileSync(join(idiomorph, "dist/idiomorph.esm.js"), "utf8"), { minify: true, format: "esm", target: "es2022", charset: "utf8", legalComments: "none" });
const files = {
  "editor.js": outputFiles[0].text,
  "idiomorph.js": morph.code,
  "LICENSES.txt": [...licences, `idiomorph ${version} (0BSD)\n\n${readFileSync(join(idiomorph, "LICENSE"), "utf8").trim()}\n`].join("\n----\n\n"),
};
let differ = 0;
for (const [name, text] of Object.entries(files)) {
  const path = join(out, name);
  if (process.argv.includes("--check")) {
    if (!existsSync(path) || readFileSync(path, "utf8") !== text) {
      console.error(`templates/serve/vendor/${name} is not what build.mjs writes`);
      differ += 1;
    }
  } else writeFileSync(path, text);
}
process.exit(differ ? 1 : 0);
