// The schema as an editor uses it: a language server for YAML reads the first line of a document, underlines what is mistyped
// and completes what is begun. SEAMWRIGHT names the program, if it is not the one of `cargo build`.
import { execFileSync, spawn } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { after, before, test } from "node:test";
import { fileURLToPath, pathToFileURL } from "node:url";
import assert from "node:assert/strict";
import rpc from "vscode-jsonrpc/node.js";

const root = join(dirname(fileURLToPath(import.meta.url)), "../..");
const program = process.env.SEAMWRIGHT ?? join(root, "target/debug/seamwright");
const server = createRequire(import.meta.url).resolve("yaml-language-server/bin/yaml-language-server");
/** How long an answer may take, ms: a slow machine makes it later, not wrong. */
const PATIENCE = 60000;

let folder, child, connection;
/** What the server last said of each document, and who waits for it. */
const told = new Map(), waiting = new Map();
let opened = 0;

before(async () => {
  folder = mkdtempSync(join(tmpdir(), "editor-"));
  execFileSync(program, ["schema", "--write", folder, "--quiet"]);
  for (const what of ["house-style", "joints", "lesson", "shop", "job", "test-record"]) {
    execFileSync(program, ["schema", what, "--write", folder, "--quiet"]);
  }
  child = spawn(process.execPath, [server, "--stdio"], { stdio: ["pipe", "pipe", "inherit"] });
  connection = rpc.createMessageConnection(new rpc.StreamMessageReader(child.stdout), new rpc.StreamMessageWriter(child.stdin));
  // What an editor asks for its user: no schema from elsewhere, everything that this test looks at.
  const settings = { validate: true, completion: true, hover: true, schemaStore: { enable: false }, maxItemsComputed: 5000 };
  connection.onRequest("workspace/configuration", ({ items }) => items.map(({ section }) => (section === "yaml" ? settings : {})));
  connection.onRequest("client/registerCapability", () => null);
  connection.onNotification("textDocument/publishDiagnostics", ({ uri, diagnostics }) => {
    told.set(uri, diagnostics);
    waiting.get(uri)?.(diagnostics);
  });
  connection.listen();
  await connection.sendRequest("initialize", {
    processId: process.pid, rootUri: pathToFileURL(folder).href,
    capabilities: {
      workspace: { configuration: true, didChangeConfiguration: { dynamicRegistration: true } },
      textDocument: { completion: { completionItem: { snippetSupport: true } }, hover: { contentFormat: ["markdown"] } },
    },
  });
  await connection.sendNotification("initialized", {});
  await connection.sendNotification("workspace/didChangeConfiguration", { settings: { yaml: settings } });
});

after(() => {
  connection?.dispose();
  child?.kill();
  if (folder) rmSync(folder, { recursive: true });
});

/** Opens a text as a document; its address, and what the server says of it. */
async function open(text) {
  const uri = pathToFileURL(join(folder, `document-${++opened}.yaml`)).href;
  const first = new Promise((found, failed) => {
    waiting.set(uri, found);
    setTimeout(() => failed(new Error(`nothing was said of\n${text}`)), PATIENCE).unref();
  });
  await connection.sendNotification("textDocument/didOpen", { textDocument: { uri, languageId: "yaml", version: 1, text } });
  return { uri, diagnostics: await first };
}

/** The words that are offered at the mark `‸` of a text. */
async function offered(marked) {
  const at = marked.indexOf("‸");
  assert.ok(at >= 0, marked);
  const { uri } = await open(marked.replace("‸", ""));
  const lines = marked.slice(0, at).split("\n");
  const position = { line: lines.length - 1, character: lines.at(-1).length };
  const answer = await connection.sendRequest("textDocument/completion", { textDocument: { uri }, position });
  return (answer?.items ?? answer ?? []).map(({ label }) => label);
}

const procedure = name => readFileSync(join(root, "procedures", `${name}.yaml`), "utf8");
const SOUND = procedure("lap-fillet-2-carbon-141");
const example = name => readFileSync(join(root, "examples", name), "utf8");

/** A text with something else in it; what was there must be there. */
function typed(text, from, to) {
  assert.ok(text.includes(from), `${from} does not stand in the document`);
  return text.replace(from, to);
}

test("what is handed out is not underlined", async () => {
  const texts = ["butt-2-304l-141", "pipe-butt-a106-141-111-6g", "butt-3-8-in-a36-111-3g", "butt-15-s355-136"].map(procedure);
  texts.push(SOUND, ...["lesson/lesson.yaml", "shop/shop.yaml", "inspection/record-iso.yaml", "house-style/house-style.yaml"].map(example));
  texts.push(execFileSync(program, ["draft", "--process", "135", "--metal", "mild steel", "--thickness", "3 mm", "--joint", "tee", "--position", "PB"], { encoding: "utf8" }));
  for (const text of texts) {
    const { diagnostics } = await open(text);
    assert.deepEqual(diagnostics.map(own => `${own.range.start.line + 1}: ${own.message}`), [], text.slice(0, 400));
  }
});

/** Each kind of slip, what stands in the sound document, and what is typed in its place. */
const SLIPS = [
  ["number without unit", "current: 70-90 A", "current: 70-90"],
  ["number without unit", "thickness: 2 mm", "thickness: 2"],
  ["wrong unit", "travel_speed: 130-200 mm/min", "travel_speed: 130-200 mm/mn"],
  ["wrong unit", "thickness: 2 mm", "thickness: 2 milimetre"],
  ["wrong dimension", "current: 70-90 A", "current: 70-90 V"],
  ["wrong dimension", "flow: 6-8 L/min", "flow: 6-8 mm/min"],
  ["unknown position", "positions: [PB]", "positions: [PX]"],
  ["unknown position", "positions: [PB]", "positions: [7G]"],
  ["unknown process", "process: 141", "process: 149"],
  ["unknown process", "\n  141:\n", "\n  TOG:\n"],
  ["unknown polarity", "polarity: DCEN", "polarity: DCE"],
  ["unknown key", "positions: [PB]", "position: [PB]"],
  ["unknown key", "current: 70-90 A", "amps: 70-90 A"],
  ["missing key", "  number: P-001\n", ""],
  ["missing key", "document: procedure\n", ""],
  ["wrong date", "date: 2026-02-17", "date: 17.02.2026"],
  ["wrong date", "date: 2026-02-17", "date: 02/17/2026"],
  ["word outside a list", "type: lap", "type: overlap"],
  ["word outside a list", "weld: fillet", "weld: bead"],
];

test("each kind of single slip is underlined, at its own line", async () => {
  const missed = [];
  for (const [kind, from, to] of SLIPS) {
    const { diagnostics } = await open(typed(SOUND, from, to));
    const line = SOUND.slice(0, SOUND.indexOf(from) + (from.match(/^\s*/)?.[0].length ?? 0)).split("\n").length - 1;
    const at = diagnostics.some(own => kind === "missing key" || own.range.start.line <= line && own.range.end.line >= line);
    if (!at) missed.push(`${kind}: ${to.trim()}: ${JSON.stringify(diagnostics)}`);
  }
  assert.deepEqual(missed, []);
  assert.equal(new Set(SLIPS.map(([kind]) => kind)).size, 10);
});

test("slips in a lesson, a shop, a record, a house style and a list of joints are underlined", async () => {
  const joints = "# yaml-language-server: $schema=joints.seamwright.schema.json\n- {joint: W1, length: 1.2 m}\n";
  const job = typed(readFileSync(join(root, "tests/golden/job.yaml"), "utf8"), "format: 1", "# yaml-language-server: $schema=job.seamwright.schema.json\nformat: 1");
  for (const text of [joints, job]) assert.deepEqual((await open(text)).diagnostics.map(own => own.message), []);
  for (const [text, from, to] of [
    [example("lesson/lesson.yaml"), "learners: 12", "learners: twelve"],
    [example("lesson/lesson.yaml"), "objectives:", "objektives:"],
    [example("shop/shop.yaml"), "polarity: [", "polarity: [DCX, "],
    [example("inspection/record-iso.yaml"), "thickness:", "thikness:"],
    [example("house-style/house-style.yaml"), "\"#1f4e79\"", "blue"],
    [joints, "1.2 m", "1.2"],
    [joints, "length:", "lenght:"],
    [job, "document: job", "document: jobs"],
  ]) {
    const { diagnostics } = await open(typed(text, from, to));
    assert.notEqual(diagnostics.length, 0, `${to} is not underlined`);
  }
});

/** A document that ends where something is begun. */
const HEAD = "# yaml-language-server: $schema=seamwright.schema.json\nformat: 1\ndocument: procedure\nidentification: {number: P-1, revision: 1, title: Trial}\n";

/** Where words are offered: how many at the least, and some of them. */
const PLACES = [
  ["document", "# yaml-language-server: $schema=seamwright.schema.json\nformat: 1\ndocument: ‸\n", 5, ["procedure", "lesson", "shop", "job", "test-record"]],
  ["keys of a procedure", `${HEAD}‸`, 15, ["parent_metals", "joint", "processes", "runs"]],
  ["metal", `${HEAD}parent_metals:\n  - specification: ‸\n`, 236, ["S235JR", "304L", "A36"]],
  ["joint type", `${HEAD}joint:\n  type: ‸\n`, 5, ["butt", "tee", "lap", "corner"]],
  ["weld", `${HEAD}joint:\n  type: tee\n  weld: ‸\n`, 6, ["fillet", "groove"]],
  ["position", `${HEAD}positions:\n  - ‸\n`, 25, ["PA", "PF", "3G", "6G"]],
  ["process of a run", `${HEAD}runs:\n  - run: 1\n    process: ‸\n`, 20, ["141", "GTAW", "135"]],
  ["process block", `${HEAD}processes:\n  ‸\n`, 20, ["141", "GTAW"]],
  ["polarity", `${HEAD}processes:\n  141:\n    polarity: ‸\n`, 3, ["DCEN", "DCEP", "AC"]],
  ["filler", `${HEAD}fillers:\n  rod:\n    designation: ‸\n`, 59, ["E7018", "ER70S-6"]],
  ["shielding gas", `${HEAD}processes:\n  141:\n    shielding_gas:\n      designation: ‸\n`, 10, ["I1", "M21"]],
  ["check of a deviation", `${HEAD}deviations:\n  - check: ‸\n`, 100, ["polarity-wrong-for-metal"]],
  ["keys of a run", `${HEAD}runs:\n  - run: 1\n    ‸\n`, 20, ["current", "travel_speed", "process"]],
];

test("lists are complete where words are offered", async () => {
  const short = [];
  for (const [what, text, least, some] of PLACES) {
    const words = await offered(text);
    const lacks = some.filter(word => !words.includes(word));
    if (words.length < least || lacks.length > 0) short.push(`${what}: ${words.length} words, without ${lacks.join(", ")}: ${words.slice(0, 8)}`);
  }
  assert.deepEqual(short, []);
  assert.ok(PLACES.length >= 12);
});

test("a key is explained where the pointer rests", async () => {
  const { uri } = await open(SOUND);
  const line = SOUND.split("\n").findIndex(own => own.includes("polarity:"));
  const character = SOUND.split("\n")[line].indexOf("polarity") + 2;
  const answer = await connection.sendRequest("textDocument/hover", { textDocument: { uri }, position: { line, character } });
  assert.match(JSON.stringify(answer?.contents ?? ""), /polarity/i);
});
