// A shop, an instructor and an inspector, each from start to print; clicks and keys are counted.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { open, picture, root, serve } from "./harness.mjs";

let server, browser, page, count;
const text = name => readFileSync(join(server.folder, name), "utf8");

before(async () => {
  server = await serve([["procedures", "procedures"], ["examples", "examples"]], ["--shop", "FOLDER/examples/shop/shop.yaml"]);
  browser = await open(server.address);
  ({ page } = browser);
});
after(async () => { await browser?.close(); await server?.end(); });

/** One click. */
const click = async target => { count.clicks += 1; await (typeof target === "string" ? page.locator(target) : target).click(); };
/** Keys typed into a field that is clicked. */
const type = async (target, words) => {
  count.clicks += 1;
  count.keys += words.length + 1;
  const field = page.locator(target);
  await field.fill(words);
  await field.press("Tab");
};
const pick = async (target, value) => { count.clicks += 2; await page.selectOption(target, value); };
const pdf = async link => {
  const href = await page.locator(link).getAttribute("href");
  const answer = await page.evaluate(async href => { const got = await fetch(href); return [got.status, (await got.text()).slice(0, 5)]; }, href);
  assert.deepEqual(answer, [200, "%PDF-"]);
};

test("a shop drafts, corrects a finding, prices and prints a card", async t => {
  count = { clicks: 0, keys: 0 };
  await click(page.getByRole("link", { name: "New procedure" }));
  await page.waitForFunction(() => !document.querySelector("#keep")?.disabled);
  await pick("select[name=process]", "111");
  await type("input[name=metal]", "S235JR");
  await click(page.getByRole("button", { name: "5 mm", exact: true }).first());
  await type("input[name=length]", "2.4 m");
  await page.waitForFunction(() => /S235JR, 5 mm/.test(document.querySelector("#sheet")?.contentDocument?.body?.textContent ?? ""));
  await picture(page, "walk-shop-1-facts");
  await type("#name", "bracket");
  await page.waitForFunction(() => !document.querySelector("#keep")?.disabled);
  await click("#keep");
  await page.waitForURL(/\/d\//);
  await page.waitForFunction(() => document.querySelector("#verdict")?.textContent);
  // A slip of the finger, seen at its field and taken back.
  const voltage = await page.locator('[data-p="/runs/0/voltage"]').inputValue() || await page.locator('[data-p="/runs/0/voltage"]').getAttribute("placeholder");
  await type('[data-p="/runs/0/voltage"]', "60 V");
  await page.waitForSelector('[data-row-found="/runs/0"] .finding.error, [data-row-found="/runs/0"] .finding.caution');
  await picture(page, "walk-shop-2-finding");
  await type('[data-p="/runs/0/voltage"]', voltage);
  await page.waitForFunction(() => !document.querySelector('[data-row-found="/runs/0"] .finding.error'));
  await click(page.getByRole("tab", { name: "Estimate" }));
  await page.waitForFunction(() => /kg/.test(document.querySelector("#sheet")?.contentDocument?.body?.textContent ?? ""));
  const estimate = await page.evaluate(() => document.querySelector("#sheet").contentDocument.body.textContent);
  assert.match(estimate, /labour/i);
  // The length that was given with the facts is the one that is priced.
  assert.match(estimate, /2\.4 m/);
  await picture(page, "walk-shop-3-price");
  await click(page.getByRole("tab", { name: "Bench card" }));
  // What was taken back left the file as it was kept; a title of its own is saved.
  await page.waitForFunction(() => document.querySelector("#saved")?.textContent === "saved");
  await type('[data-p="/identification/title"]', "Bracket of the side gate");
  await click("#save");
  await page.waitForFunction(() => document.querySelector("#saved")?.textContent === "saved");
  await picture(page, "walk-shop-4-card");
  await pdf("#pdf");
  assert.match(text("bracket.yaml"), /length: 2.4 m/);
  assert.match(text("bracket.yaml"), /title: .?Bracket of the side gate/);
  t.diagnostic(`${count.clicks} clicks, ${count.keys} keys`);
  // Three minutes at a click in two seconds and a key in half a second.
  assert.ok(count.clicks * 2 + count.keys / 2 < 180, JSON.stringify(count));
  browser.clean();
});

test("an instructor makes a lesson of another", async t => {
  count = { clicks: 0, keys: 0 };
  await page.goto(`http://${server.host}/new`);
  await click(page.locator("label", { hasText: "as a copy" }));
  const lesson = await page.evaluate(async () => (await (await fetch("/rows")).json()).find(row => row.kind === "lesson").id);
  await pick("select[name=copy]", lesson);
  await type("input[name=number]", "L-77");
  await type("input[name=title]", "First fillets for the evening class");
  await type("#name", "evening");
  await page.waitForFunction(() => /evening class/.test(document.querySelector("#sheet")?.contentDocument?.body?.textContent ?? "") || !document.querySelector("#keep")?.disabled);
  await click("#keep");
  await page.waitForURL(/\/d\//);
  await page.waitForFunction(() => document.querySelector("#verdict")?.textContent);
  await page.waitForFunction(() => /evening class/.test(document.querySelector("#sheet")?.contentDocument?.body?.textContent ?? ""));
  await picture(page, "walk-instructor-lesson");
  await pdf("#pdf");
  t.diagnostic(`${count.clicks} clicks, ${count.keys} keys`);
  browser.clean();
});

test("an inspector drops a PDF and writes a review", async t => {
  count = { clicks: 0, keys: 0 };
  const binary = process.env.SEAMWRIGHT ?? join(root, "target/debug/seamwright");
  const out = `${server.folder}-sheets`;
  try { execFileSync(binary, ["render", join(root, "examples/submitted/submitted.yaml"), "--out", out, "--to", "pdf"], { stdio: "pipe" }); } catch { /* its faults are what is looked for */ }
  const sheet = readdirSync(out).find(name => name.endsWith(".pdf"));
  await page.goto(`http://${server.host}/`);
  count.clicks += 1;
  await page.setInputFiles("#file", join(out, sheet));
  await page.waitForURL(/\/arrived\//);
  assert.match(await page.locator("#verdict-title").innerText(), /is what its source gives/);
  const findings = await page.locator("#replies > li").count();
  assert.ok(findings > 3);
  await pick('[data-of="0"]', "to be explained");
  await type('[data-reply="0"]', "State where this comes from.");
  await type("input[name=reviewer]", "I. Nspector");
  await picture(page, "walk-inspector-review");
  count.clicks += 1;
  const [saved] = await Promise.all([page.waitForEvent("download"), page.locator("#save-review").click()]);
  const review = readFileSync(await saved.path(), "utf8");
  for (const words of ["I. Nspector", "State where this comes from.", "returned", "to be explained"]) assert.ok(review.includes(words), words);
  t.diagnostic(`${count.clicks} clicks, ${count.keys} keys, ${findings} findings`);
  browser.clean();
});
