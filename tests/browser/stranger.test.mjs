// Someone who has seen neither the program nor YAML makes a valid bench card; each click and key is counted, as the guide has it.
import assert from "node:assert/strict";
import { mkdtempSync, readFileSync, readdirSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import { open, picture, root, run } from "./harness.mjs";

test("a stranger makes a valid bench card in under three minutes", async t => {
  const folder = mkdtempSync(join(tmpdir(), "stranger-"));
  const server = await run(folder);
  const browser = await open(server.address);
  const { page } = browser;
  let clicks = 0, keys = 0;
  const click = async target => { clicks += 1; await target.click(); };
  const type = async (target, words) => { await click(target); await page.keyboard.press("Control+a"); keys += 1 + words.length; await page.keyboard.type(words); };
  try {
    await picture(page, "stranger-1-empty");
    await click(page.locator("nav").getByRole("link", { name: "New" }));
    await page.waitForFunction(() => !document.querySelector("#keep")?.disabled);
    // A list is opened and an entry picked.
    clicks += 2;
    await page.selectOption("select[name=process]", "111");
    await type(page.locator("input[name=metal]"), "A36");
    await click(page.getByRole("button", { name: "1/4 in", exact: true }).first());
    await click(page.locator("label", { hasText: "PB" }));
    await page.waitForFunction(() => /A36/.test(document.querySelector("#sheet")?.contentDocument?.body?.textContent ?? ""));
    await picture(page, "stranger-2-facts");
    await click(page.locator("#keep"));
    await page.waitForURL(/\/d\//);
    await page.waitForFunction(() => document.querySelector("#verdict")?.textContent);
    const found = await page.locator("#verdict").innerText();
    assert.doesNotMatch(found, /error/, "the card is valid");
    await click(page.getByRole("tab", { name: "Bench card" }));
    await page.waitForFunction(() => /bench card/i.test(document.querySelector("#sheet")?.contentDocument?.body?.textContent ?? ""));
    await picture(page, "stranger-3-card");
    const [opened] = await Promise.all([page.context().waitForEvent("page"), click(page.locator("#pdf"))]);
    const link = await page.locator("#pdf").getAttribute("href");
    const pdf = await page.evaluate(async link => { const got = await fetch(link); return [got.status, (await got.text()).slice(0, 5)]; }, link);
    assert.deepEqual(pdf, [200, "%PDF-"]);
    assert.match(link, /kind=bench-card/);
    // What was typed in inches is shown in inches.
    assert.match(link, /units=us.*paper=letter/);
    assert.match(await page.evaluate(() => document.querySelector("#sheet").contentDocument.body.textContent), /1\/4 in/);
    await opened.close();
    assert.equal(readdirSync(folder).filter(name => name.endsWith(".yaml")).length, 1);
    t.diagnostic(`${clicks} clicks, ${keys} keys: ${found}`);
    // A click in five seconds and a key in one, for someone who reads everything.
    assert.ok(clicks * 5 + keys < 180, `${clicks} clicks, ${keys} keys`);
    const guide = readFileSync(join(root, "docs/guide/browser.md"), "utf8");
    assert.ok(guide.includes(`${clicks} clicks and ${keys} keys`), `the guide says so: ${clicks} clicks and ${keys} keys`);
    browser.clean();
  } finally {
    await browser.close();
    await server.end();
  }
});
