// Opens pages in headless Chromium and reports on them as JSON lines: console messages, scroll width at 360 px, what
// axe-core finds, pages in print, and whether the index can be searched.
// node browser.mjs CHROMIUM MODULES PAGE...
import { createRequire } from "node:module";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join, resolve, basename } from "node:path";
import { pathToFileURL } from "node:url";

const [chromium, modules, ...pages] = process.argv.slice(2);
const require = createRequire(join(resolve(modules), "x.js"));
const puppeteer = require("puppeteer-core");
const axe = require("axe-core").source;
const profile = mkdtempSync(join(tmpdir(), "browser-"));
const browser = await puppeteer.launch({
  executablePath: chromium, headless: true, userDataDir: profile, pipe: true, protocolTimeout: 120000,
  args: ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-quic", "--disable-background-networking",
    "--disable-component-update", "--disable-sync"],
});
try {
  for (const path of pages) {
    const page = await browser.newPage();
    const noise = [];
    page.on("console", message => noise.push(message.text()));
    page.on("pageerror", error => noise.push(String(error)));
    await page.setBypassCSP(true);
    await page.setViewport({ width: 360, height: 740 });
    await page.goto(pathToFileURL(resolve(path)).href, { waitUntil: "load" });
    const report = { page: path, noise };
    report.narrow = await page.evaluate(() => document.documentElement.scrollWidth);
    await page.setViewport({ width: 1200, height: 900 });
    await page.evaluate(axe);
    const found = await page.evaluate(() => axe.run(document));
    report.violations = found.violations.map(v => `${v.id}: ${v.nodes.slice(0, 2).map(n => n.html.slice(0, 160)).join(" | ")}`);
    await page.emulateMediaFeatures([{ name: "prefers-color-scheme", value: "dark" }]);
    const dark = await page.evaluate(() => axe.run(document, { runOnly: ["color-contrast"] }));
    report.dark = dark.violations.map(v => `${v.id}: ${v.nodes.slice(0, 2).map(n => n.html.slice(0, 160)).join(" | ")}`);
    if (basename(path) === "index.html") {
      const shown = () => page.evaluate(() => [...document.querySelectorAll("#sheets tbody tr")].filter(row => !row.hidden)
        .map(row => row.querySelector("th").firstChild.textContent.trim()));
      report.rows = (await shown()).length;
      await page.type("#search", "P-006");
      report.byNumber = await shown();
      await page.click("button[type=reset]");
      await new Promise(done => setTimeout(done, 100));
      report.filters = {};
      for (const column of ["process", "metal", "thickness", "position"]) {
        const value = await page.evaluate(name => document.querySelector(`select[data-column=${name}]`).options[1]?.value, column);
        await page.select(`select[data-column=${column}]`, value);
        const rows = await page.evaluate(() => [...document.querySelectorAll("#sheets tbody tr")].filter(row => !row.hidden)
          .map(row => Object.fromEntries([...row.querySelectorAll("[data-column]")].map(cell => [cell.dataset.column, cell.textContent.trim()]))));
        report.filters[column] = rows.length > 0 && rows.length < report.rows && rows.every(row => row[column] === value);
        await page.click("button[type=reset]");
        await new Promise(done => setTimeout(done, 100));
      }
    }
    await page.emulateMediaFeatures([]);
    const pdf = Buffer.from(await page.pdf({ preferCSSPageSize: true })).toString("latin1");
    report.pages = (pdf.match(/\/Type\s*\/Page\b(?!s)/g) ?? []).length;
    console.log(JSON.stringify(report));
    await page.close();
  }
} finally {
  await browser.close();
  rmSync(profile, { recursive: true, force: true });
}
