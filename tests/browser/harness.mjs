// A program that serves a folder of its own, a browser, and what every screen is held to.
import { spawn } from "node:child_process";
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import assert from "node:assert/strict";
import { chromium } from "playwright-core";

const here = dirname(fileURLToPath(import.meta.url));
export const root = join(here, "../..");
const axe = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const binary = process.env.SEAMWRIGHT ?? join(root, "target/debug/seamwright");
/** Where pictures go, if they are wanted. */
const pictures = process.env.PICTURES;
if (pictures) mkdirSync(pictures, { recursive: true });
/** How long anything may take, ms: a test waits for what it names, and a slow machine makes it later, not wrong. */
const PATIENCE = 120000;

/** Serves a copy of files; gives the address, the folder and the way to end it. */
export async function serve(files, options = []) {
  const folder = mkdtempSync(join(tmpdir(), "serve-"));
  for (const [from, to] of files) cpSync(join(root, from), join(folder, to ?? from.split("/").pop()), { recursive: true });
  return { folder, ...await run(folder, options.map(own => own.replace("FOLDER", folder))) };
}

export async function run(folder, options = []) {
  const child = spawn(binary, ["serve", folder, "--no-open", ...options], { stdio: ["ignore", "pipe", "pipe"] });
  let told = "";
  child.stderr.on("data", data => { told += data; });
  let text = "";
  const address = await new Promise((found, failed) => {
    child.stdout.on("data", data => {
      text += data;
      const match = text.match(/http:\/\/127\.0\.0\.1:\d+\/\?key=[0-9a-f]+/);
      if (match && text.includes("Ctrl+C") && (!options.includes("--lan") || text.includes("read only"))) found(match[0]);
    });
    child.on("exit", code => failed(new Error(`ended with ${code}: ${told}`)));
    setTimeout(() => failed(new Error(`no address: ${text}${told}`)), PATIENCE).unref();
  });
  return {
    address, host: new URL(address).host, child,
    /** The address of the cards, with `--lan`. */
    bench: text.match(/http:\/\/[\d.]+:\d+\/[0-9a-f]+\//)?.[0] ?? "",
    end: () => new Promise(done => { if (child.exitCode !== null) done(undefined); else { child.on("exit", done); child.kill("SIGKILL"); } }),
  };
}

/** A browser whose pages report every request that leaves the machine and every word on the console. */
export async function open(address, settings = {}) {
  const profile = mkdtempSync(join(tmpdir(), "profile-"));
  const context = await chromium.launchPersistentContext(profile, {
    executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", headless: true, viewport: { width: 1280, height: 900 },
    args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
      "--disable-component-update", "--disable-sync"],
    ...settings,
  });
  context.setDefaultTimeout(PATIENCE);
  const noise = [];
  const outside = [];
  const host = new URL(address).host;
  context.on("request", request => {
    const url = request.url();
    if (!/^(data|blob|about|chrome-extension|chrome):/.test(url) && new URL(url).host !== host) outside.push(url);
  });
  const page = await context.newPage();
  const watch = own => {
    own.on("console", message => noise.push(`${message.type()}: ${message.text()}`));
    own.on("pageerror", error => noise.push(String(error)));
  };
  watch(page);
  context.on("page", watch);
  await page.goto(address);
  return {
    page, context, noise, outside,
    clean() {
      assert.deepEqual(noise, [], "the console is silent");
      assert.deepEqual(outside, [], "nothing leaves the machine");
    },
    async close() { await context.close(); rmSync(profile, { recursive: true, force: true }); },
  };
}

/** Axe in light and dark, and no sideways scroll at 360 px. */
export async function held(page, name) {
  const size = page.viewportSize();
  await page.evaluate(axe);
  for (const colorScheme of ["light", "dark"]) {
    await page.emulateMedia({ colorScheme, reducedMotion: "reduce" });
    for (const width of [1280, 360]) {
      await page.setViewportSize({ width, height: 900 });
      // Two frames are drawn: what the new width and colours change is there.
      await page.evaluate(() => new Promise(drawn => requestAnimationFrame(() => requestAnimationFrame(drawn))));
      const wide = await page.evaluate(() => document.documentElement.scrollWidth);
      assert.ok(wide <= width, `${name} at ${width} px is ${wide} px wide`);
      const found = await page.evaluate(() => window.axe.run(document, { resultTypes: ["violations"], iframes: false }));
      const violations = found.violations.map(own => `${own.id}: ${own.nodes.slice(0, 3).map(node => node.html.slice(0, 160)).join(" | ")}`);
      assert.deepEqual(violations, [], `${name}, ${colorScheme}, ${width} px`);
      await picture(page, `${name}-${colorScheme}-${width}`);
    }
  }
  await page.emulateMedia({ colorScheme: "light" });
  await page.setViewportSize(size);
}

export async function picture(page, name) {
  if (pictures) await page.screenshot({ path: join(pictures, `${name}.png`) });
}

/** What was typed is answered. */
export const settled = page => page.waitForFunction(() => !document.body.hasAttribute("data-busy"));
export { existsSync, readFileSync };

/** Goes to an element by the Tab key, as someone without a mouse does. */
export async function tabTo(page, selector) {
  for (let count = 0; count < 400; count += 1) {
    await page.keyboard.press("Tab");
    if (await page.evaluate(selector => document.activeElement?.matches(selector), selector)) return;
  }
  assert.fail(`${selector} is not reached by the keyboard`);
}
