// My shop, the change of an issued document, and the cards at the bench.
import assert from "node:assert/strict";
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { held, open, serve, settled, tabTo } from "./harness.mjs";

let server, browser, page;
const file = name => join(server.folder, name);
const text = name => readFileSync(file(name), "utf8");
const idOf = name => page.evaluate(async name => (await (await fetch("/rows")).json()).find(row => row.file === name).id, name);
const saved = () => page.waitForFunction(() => document.querySelector("#saved")?.textContent === "saved");

before(async () => {
  server = await serve([["procedures/lap-fillet-2-carbon-141.yaml"], ["procedures/tee-fillet-10-s355-111.yaml"]], ["--lan"]);
  browser = await open(server.address);
  ({ page } = browser);
});
after(async () => { await browser?.close(); await server?.end(); });

test("a shop is begun with one machine and filled in as plates", async () => {
  await page.goto(`http://${server.host}/shop`);
  await held(page, "shop-begin");
  await page.fill("input[name=title]", "Workshop of the test");
  await page.fill("input[name=machine]", "bay 1");
  await page.fill("input[name=processes]", "135, 111");
  await page.fill("input[name=currency]", "EUR");
  await page.click("#begin-shop button.main");
  await page.waitForURL(/\/d\//);
  assert.match(text("shop.yaml"), /bay 1/);
  assert.equal(await page.locator('nav [aria-current="page"]').innerText(), "My shop");
  await page.locator('[data-add="/power_sources"]').click();
  const second = page.locator('[data-p="/power_sources/1/name"]');
  await second.fill("TIG bench");
  await second.press("Tab");
  await settled(page);
  // What else a machine must state is told until it is stated.
  const welds = page.locator('[data-p="/power_sources/1/processes"]');
  await welds.fill("141");
  await welds.press("Tab");
  await settled(page);
  // In the owner's words: the range of a machine by amps, a rate by the hour.
  // The first plate is folded under its name; the one that was added stands open.
  const first = page.locator('[data-plate="/power_sources/0"]');
  assert.equal(await first.getAttribute("open"), null);
  assert.match(await first.locator("> summary").innerText(), /Power source 1 bay 1/);
  await first.locator("> summary").click();
  const range = page.locator('[data-p="/power_sources/0/current"]');
  await range.fill("30 to 350 amps");
  await range.press("Tab");
  await page.waitForFunction(() => document.querySelector('[data-p="/power_sources/0/current"]')?.value === "30-350 A");
  await page.locator('[data-add="/welders"]').click();
  await page.locator('[data-p="/welders/0/name"]').fill("A. Tester");
  await page.locator('[data-p="/welders/0/name"]').press("Tab");
  await settled(page);
  await held(page, "shop");
  await page.keyboard.press("Control+s");
  await saved();
  for (const words of ["TIG bench", "30-350 A", "A. Tester"]) assert.ok(text("shop.yaml").includes(words), words);
  browser.clean();
});

test("My shop by keyboard alone: a machine is named, a plate taken out", async () => {
  await page.goto(`http://${server.host}/`);
  await tabTo(page, 'nav a[href="/shop"]');
  await page.keyboard.press("Enter");
  await page.waitForURL(/\/d\//);
  await page.waitForFunction(() => document.querySelector("#verdict")?.textContent);
  await tabTo(page, '[data-plate="/power_sources/1"] > summary');
  await page.keyboard.press("Enter");
  await tabTo(page, '[data-p="/power_sources/1/name"]');
  await page.keyboard.press("Control+a");
  await page.keyboard.type("TIG bench 2");
  await page.keyboard.press("Tab");
  await settled(page);
  await page.keyboard.press("Control+s");
  await saved();
  assert.match(text("shop.yaml"), /TIG bench 2/);
  await tabTo(page, '[data-remove="/power_sources/1"]');
  await page.keyboard.press("Enter");
  await page.waitForFunction(() => !document.querySelector('[data-p="/power_sources/1/name"]'));
  await settled(page);
  await page.keyboard.press("Control+s");
  await saved();
  assert.doesNotMatch(text("shop.yaml"), /TIG bench 2/);
  browser.clean();
});

test("the change of an issued document: why, the next revision, both side by side", async () => {
  const id = await idOf("lap-fillet-2-carbon-141.yaml");
  const before = text("lap-fillet-2-carbon-141.yaml");
  await page.goto(`http://${server.host}/d/${id}`);
  await page.waitForFunction(() => document.querySelector("#verdict")?.textContent);
  await page.click(".menu summary");
  await page.click("#change");
  await page.waitForURL(/\/change$/);
  await held(page, "change");
  // A change without a reason is none.
  await page.click("#change button.main");
  assert.equal(text("lap-fillet-2-carbon-141.yaml"), before);
  await page.fill("textarea[name=why]", "The current was raised after the trial.");
  await page.fill("input[name=by]", "A. Tester");
  await page.click("#change button.main");
  await page.waitForURL(/\/compare\?/);
  const words = await page.locator("main").innerText();
  assert.match(words, /P-001 revision 1/);
  assert.match(words, /P-001 revision 2/);
  await held(page, "changed");
  const now = text("lap-fillet-2-carbon-141.yaml");
  assert.match(now, /revision: 2/);
  assert.match(now, /The current was raised after the trial\./);
  assert.match(text("lap-fillet-2-carbon-141-rev-1.yaml"), /status: superseded/);
  browser.clean();
});

test("a change by keyboard alone", async () => {
  await page.goto(`http://${server.host}/d/${await idOf("tee-fillet-10-s355-111.yaml")}`);
  await page.waitForFunction(() => document.querySelector("#verdict")?.textContent);
  await tabTo(page, ".menu summary");
  await page.keyboard.press("Enter");
  await tabTo(page, "#change");
  await page.keyboard.press("Enter");
  await page.waitForURL(/\/change$/);
  await tabTo(page, "textarea[name=why]");
  await page.keyboard.type("Another electrode is stocked now.");
  await tabTo(page, "#change button.main");
  await page.keyboard.press("Enter");
  await page.waitForURL(/\/compare\?/);
  assert.match(text("tee-fillet-10-s355-111.yaml"), /Another electrode is stocked now\./);
  assert.ok(existsSync(file("tee-fillet-10-s355-111-rev-1.yaml")));
  browser.clean();
});

test("a job: a pasted list is planned, kept, corrected and printed", async () => {
  await page.goto(`http://${server.host}/job`);
  await held(page, "job-list");
  await page.fill("#joints", "Mark\tMaterial\tThk\tType\tPos\tLength\tQty\nA1\tS355J2+N\t10 mm\tT\tPB\t2.4 m\t4\nA2\tS235JR\t2 mm\tlap\tPB\t18\"\t20\nA3\tS235JR\t40 mm\tbutt\tPA\t1 m\t1\n");
  await page.click("#job button.main");
  await page.waitForSelector("#plan tbody tr:nth-child(3)");
  const rows = await page.locator("#plan tbody tr").allInnerTexts();
  assert.match(rows[1], /P-001/);
  assert.match(rows[1], / h/);
  assert.match(rows[2], /names no procedure/);
  await held(page, "job-plan");
  await page.fill("#keep-job input[name=title]", "Frames of the test");
  await page.click("#keep-job button.main");
  await page.waitForURL(/\/d\//);
  await page.waitForFunction(() => /3 joints/.test(document.querySelector("#verdict")?.textContent ?? ""));
  assert.equal(await page.locator('nav [aria-current="page"]').innerText(), "Job");
  // A slip in a number is told at its field, and what covers the joint is taken by a button.
  const number = page.locator('[data-p="/joints/1/procedure"]');
  await number.fill("P-0O1");
  await number.press("Tab");
  const slip = page.locator('[data-row-found="/joints/1"] .finding', { hasText: "there is no procedure P-0O1" });
  await slip.waitFor();
  await slip.getByRole("button", { name: "Take P-001" }).click();
  await slip.waitFor({ state: "detached" });
  assert.equal(await number.inputValue(), "P-001");
  const before = await page.locator('[data-figure="hours"][data-of="/joints/1"]').innerText();
  await page.fill('[data-p="/joints/1/pieces"]', "40");
  await page.locator('[data-p="/joints/1/pieces"]').press("Tab");
  await page.waitForFunction(before => document.querySelector('[data-figure="hours"][data-of="/joints/1"]')?.textContent !== before, before);
  await page.locator('[data-remove="/joints/2"]').click();
  await page.waitForFunction(() => /2 joints/.test(document.querySelector("#verdict")?.textContent ?? ""));
  for (const name of ["Traveller", "Cover", "For the office"]) await page.getByRole("tab", { name }).click();
  await page.waitForFunction(() => /Hours/.test(document.querySelector("#sheet")?.contentDocument?.body?.textContent ?? ""));
  await held(page, "job");
  await page.keyboard.press("Control+s");
  await saved();
  assert.match(text("j-1.yaml"), /pieces: 40/);
  const bytes = await page.evaluate(async () => { const got = await fetch(document.querySelector("#binder").getAttribute("href")); return [got.status, (await got.text()).slice(0, 5)]; });
  assert.deepEqual(bytes, [200, "%PDF-"]);
  browser.clean();
});

test("a job by keyboard alone", async () => {
  await page.goto(`http://${server.host}/job`);
  await tabTo(page, "#joints");
  await page.keyboard.type("B1; S235JR; 2 mm; lap; PB; 300 mm; 10");
  await page.keyboard.press("Tab");
  await page.keyboard.press("Enter");
  await page.waitForSelector("#plan tbody tr");
  await tabTo(page, "#keep-job button");
  await page.keyboard.press("Enter");
  await page.waitForURL(/\/d\//);
  await page.waitForFunction(() => /1 joint:/.test(document.querySelector("#verdict")?.textContent ?? ""));
  await tabTo(page, '[data-p="/joints/0/welder"]');
  await page.keyboard.type("A. Tester");
  await page.keyboard.press("Enter");
  await settled(page);
  await page.keyboard.press("Control+s");
  await saved();
  assert.match(text("j-2.yaml"), /welder: A\. Tester/);
  browser.clean();
});

test("the code for a telephone leads to the cards", async () => {
  await page.goto(`http://${server.host}/bench`);
  assert.equal(await page.locator("#bench-address").getAttribute("href"), server.bench);
  await held(page, "bench-code");
  // What a camera sees: the code, read back by the browser's pixels, has the three finders and the address's modules.
  const path = await page.locator("svg.code path").getAttribute("d");
  const side = Number((await page.locator("svg.code").getAttribute("viewBox")).split(" ")[2]) - 8;
  const dark = new Set([...path.matchAll(/M(\d+) (\d+)h/g)].map(own => `${Number(own[1]) - 4},${Number(own[2]) - 4}`));
  for (const [x, y] of [[0, 0], [side - 7, 0], [0, side - 7]]) {
    for (let at = 0; at < 7; at += 1) {
      assert.ok(dark.has(`${x + at},${y}`) && dark.has(`${x},${y + at}`), `finder at ${x}, ${y}`);
      if (at > 0 && at < 6) assert.equal(dark.has(`${x + at},${y + 1}`), false);
    }
  }
  browser.clean();
});

test("the bench on a telephone: light, dark, by keyboard, and out of reach of the network", async () => {
  const phone = await open(server.bench, { viewport: { width: 360, height: 740 } });
  try {
    const list = await phone.page.locator("main").innerText();
    assert.match(list, /P-001 rev 2/);
    assert.doesNotMatch(list, /superseded/);
    await held(phone.page, "bench-list");
    const card = phone.page.frameLocator("#frames iframe:not([hidden])").locator("body");
    const away = phone.page.locator("#away");
    await tabTo(phone.page, 'a[href*="units=us"]');
    await phone.page.keyboard.press("Enter");
    await card.getByText("P-0").first().waitFor();
    await phone.page.goBack();
    const open = name => phone.page.locator("section", { hasText: name }).getByRole("link", { name: "SI units" });
    await open("P-001").click();
    await card.getByText("P-001").first().waitFor();
    assert.equal(await away.isVisible(), false);
    await held(phone.page, "bench-card");
    // Figures at arm's length: no setting is set smaller than 16 px.
    const figures = await card.evaluate(body => [...body.querySelectorAll("*")]
      .filter(own => own.childElementCount === 0 && own.checkVisibility() && /^[\d.]+–[\d.]+$/.test(own.textContent?.trim() ?? ""))
      .map(own => parseFloat(getComputedStyle(own).fontSize)));
    assert.ok(figures.length >= 3 && figures.every(size => size >= 16), String(figures));
    phone.clean();
    // Out of reach: a card that was opened is read, and says as of when; another is asked for in vain.
    await phone.context.setOffline(true);
    await phone.page.getByRole("link", { name: "All cards" }).click();
    assert.match(await phone.page.locator("main").innerText(), /Bench cards/);
    await open("P-001").click();
    await away.getByText("Out of reach of the network: this is the card as it was at").waitFor();
    assert.match(await card.innerText(), /P-001/);
    await phone.page.goBack();
    await phone.page.locator("section", { hasNotText: "P-001" }).getByRole("link", { name: "SI units" }).first().click();
    await away.getByText("was not opened before").waitFor();
    await phone.context.setOffline(false);
    await phone.page.goBack();
    await open("P-001").click();
    await away.waitFor({ state: "hidden" });
    assert.match(await card.innerText(), /P-001/);
    // The card by itself, as whoever opens its address in a tab of its own sees it.
    const address = await phone.page.locator("section", { hasText: "P-001" }).locator("a.main").getAttribute("href");
    await phone.page.goto(new URL(address, server.bench).href);
    await held(phone.page, "bench-card-alone");
    // It shows and changes nothing.
    const answer = await phone.page.evaluate(async () => (await fetch(location.href, { method: "POST" }).catch(() => ({ status: 0 }))).status);
    assert.ok([0, 405].includes(answer), String(answer));
  } finally {
    await phone.close();
  }
});
