// Nothing that was typed is lost, and nothing is written that nobody stated: out of reach, slow, started again, moved, taken back.
import assert from "node:assert/strict";
import { appendFileSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { open, run, serve, settled } from "./harness.mjs";

let server, browser, page;
const LAP = "lap-fillet-2-carbon-141.yaml";
const BUTT = "butt-10-s355-135.yaml";
const field = pointer => page.locator(`[data-p="${pointer}"]`);
const found = pointer => page.locator(`[data-field="${pointer}"] .finding, [data-row-found="${pointer.split("/").slice(0, 3).join("/")}"] .finding`);
const saved = () => page.locator("#saved").innerText();

before(async () => {
  server = await serve([...[LAP, BUTT, "tee-fillet-3-304l-141.yaml"].map(name => [`procedures/${name}`]), ["examples/shop/shop.yaml"]]);
  browser = await open(server.address);
  ({ page } = browser);
  page.on("dialog", dialog => dialog.accept().catch(() => {}));
});
after(async () => { await browser?.close(); await server?.end(); });

async function show(file) {
  await page.goto(`http://${server.host}/`);
  const id = await page.evaluate(async file => (await (await fetch("/rows")).json()).find(row => row.file === file).id, file);
  await page.goto(`http://${server.host}/d/${id}`);
  await page.waitForFunction(() => document.querySelector("#verdict")?.textContent);
  return id;
}

async function type(pointer, words) {
  await field(pointer).evaluate(own => { for (let at = own.parentElement; at; at = at.parentElement) if (at instanceof HTMLDetailsElement) at.open = true; });
  if (await field(pointer).evaluate(own => own.tagName === "SELECT")) await field(pointer).selectOption(words);
  else await field(pointer).fill(words);
  await field(pointer).blur();
}

/** Whether the browser asks before the page is left. */
const asks = () => page.evaluate(() => !window.dispatchEvent(new Event("beforeunload", { cancelable: true })));

async function discard() {
  await settled(page);
  if (await page.locator("#discard").isEnabled()) await page.click("#discard");
  await page.waitForFunction(() => document.querySelector("#saved")?.textContent === "saved");
}

test("what cannot be sent says so, is asked for before the page is left, and is sent again", async () => {
  await show(LAP);
  await page.route("**/edit", route => route.abort());
  await type("/runs/0/current", "77 A");
  await page.waitForFunction(() => /not sent/.test(document.querySelector("#saved")?.textContent ?? ""));
  assert.ok(await asks());
  await page.keyboard.press("Control+s");
  await page.waitForFunction(() => /Not saved/.test(document.querySelector("#status")?.textContent ?? ""));
  assert.equal(await field("/runs/0/current").inputValue(), "77 A");
  await page.unroute("**/edit");
  await page.waitForFunction(() => document.querySelector("#saved")?.textContent === "not saved");
  assert.equal(await field("/runs/0/current").inputValue(), "77 A");
  assert.equal(await page.locator("#status").innerText(), "");
  assert.ok(!await asks());
  await page.keyboard.press("Control+s");
  await page.waitForFunction(() => document.querySelector("#saved")?.textContent === "saved");
  assert.match(readFileSync(join(server.folder, LAP), "utf8"), /77 A/);
});

test("a slow program: the page asks before it is left", async () => {
  await show(LAP);
  let go = () => {};
  const held = new Promise(done => { go = done; });
  await page.route("**/edit", async route => { await held; await route.continue(); });
  const asked = page.waitForRequest("**/edit");
  await type("/runs/0/current", "78 A");
  await asked;
  assert.ok(await asks());
  go();
  await settled(page);
  assert.ok(!await asks());
  await page.unroute("**/edit");
  await discard();
});

test("a program that is started again: what was typed meanwhile is there, on the open page and on a new one", async () => {
  const id = await show(LAP);
  await server.end();
  await type("/runs/0/current", "79 A");
  await page.waitForFunction(() => /not sent/.test(document.querySelector("#saved")?.textContent ?? ""));
  Object.assign(server, await run(server.folder));
  assert.equal(server.host, new URL(page.url()).host, "the page of a folder keeps its address");
  // The new key is asked for: the page waits for it.
  await page.waitForFunction(() => /started again|does not answer/.test(document.querySelector("#status")?.textContent ?? ""));
  const other = await page.context().newPage();
  await other.goto(server.address);
  await page.waitForFunction(() => document.querySelector("#saved")?.textContent === "not saved");
  assert.equal(await field("/runs/0/current").inputValue(), "79 A");
  // The page is closed while the program is gone.
  await server.end();
  await type("/runs/0/current", "81 A");
  await page.waitForFunction(() => /not sent/.test(document.querySelector("#saved")?.textContent ?? ""));
  await page.goto("about:blank");
  Object.assign(server, await run(server.folder));
  await other.goto(server.address);
  await page.goto(`http://${server.host}/d/${id}`);
  await page.waitForFunction(() => document.querySelector('[data-p="/runs/0/current"]')?.value === "81 A");
  await settled(page);
  assert.match(await page.locator("#status").innerText(), /is back/);
  // Where the document was changed since, whoever typed it decides.
  await page.route("**/edit", route => route.abort());
  await type("/runs/0/current", "82 A");
  await page.waitForFunction(() => /not sent/.test(document.querySelector("#saved")?.textContent ?? ""));
  await page.goto("about:blank");
  await page.unroute("**/edit");
  await other.goto(`http://${server.host}/`);
  const status = await other.evaluate(async id => {
    const { base, live } = await (await fetch(`/d/${id}/state`)).json();
    const ops = [{ op: "type", at: "/identification/title", text: "Another title" }];
    const headers = { "x-seamwright-token": document.querySelector("meta[name=token]").content };
    return (await fetch(`/d/${id}/edit`, { method: "POST", headers, body: JSON.stringify({ of: live.digest, base, n: 1, ops }) })).status;
  }, id);
  assert.equal(status, 200);
  await page.goto(`http://${server.host}/d/${id}`);
  await page.waitForSelector("#kept:not([hidden])");
  assert.match(await page.locator("#kept").innerText(), /82 A/);
  assert.equal(await field("/runs/0/current").inputValue(), "81 A");
  await page.click("#put-kept");
  await settled(page);
  assert.equal(await field("/runs/0/current").inputValue(), "82 A");
  assert.equal(await field("/identification/title").inputValue(), "Another title");
  await discard();
  await page.reload();
  await page.waitForFunction(() => document.querySelector("#verdict")?.textContent);
  assert.equal(await page.locator("#kept").isVisible(), false);
  assert.equal(await saved(), "saved");
  await other.close();
});

test("what is added states nothing, and is told until it is filled", async () => {
  await show(LAP);
  await page.click('[data-add="/parent_metals"]');
  const metal = await page.waitForSelector('[data-p="/parent_metals/1/specification"], [data-p="/parent_metals/2/specification"]');
  const at = (await metal.getAttribute("data-p")).replace("/specification", "");
  await settled(page);
  assert.equal(await metal.inputValue(), "");
  assert.match(await found(`${at}/specification`).first().innerText(), /not stated/);
  assert.ok(await page.locator('.tabs [data-kind="bench-card"]').count(), "the kinds of sheet stay");
  await type(`${at}/specification`, "S235JR");
  await settled(page);
  await type(`${at}/thickness`, "2 mm");
  await page.waitForFunction(() => /values examined/.test(document.querySelector("#verdict")?.textContent ?? "") && !/fault/.test(document.querySelector("#verdict")?.textContent ?? ""));
  await discard();
  await show("shop.yaml");
  for (const list of ["/power_sources", "/welders"]) {
    const before = await page.locator(`[data-plate^="${list}/"]`).count();
    await page.click(`[data-add="${list}"]`);
    await page.waitForSelector(`[data-plate="${list}/${before}"][open]`);
    const values = await page.locator(`[data-plate="${list}/${before}"] [data-p]`).evaluateAll(all => all.map(own => own.value).filter(Boolean));
    assert.deepEqual(values, [], list);
    assert.ok(await page.locator(`[data-plate="${list}/${before}"] .finding.error`).count(), list);
  }
  await discard();
});

test("what is not understood goes with its run, and out with it", async () => {
  await show(BUTT);
  const rows = await page.locator("tr[data-row]").count();
  const gone = count => page.waitForFunction(count => document.querySelectorAll("tr[data-row]").length === count, count);
  await page.locator('[data-more="/runs/1"] > summary').click();
  await field("/runs/1/polarity").waitFor({ state: "attached" });
  await type("/runs/1/current", "a lot");
  await found("/runs/1/current").first().waitFor();
  await page.click('[data-copy="/runs/0"]');
  await gone(rows + 1);
  await settled(page);
  assert.equal(await field("/runs/2/current").inputValue(), "a lot");
  assert.notEqual(await field("/runs/1/current").inputValue(), "a lot");
  assert.equal(await page.locator('[data-more="/runs/2"]').getAttribute("open"), "", "what was opened stays open");
  assert.equal(await page.locator('[data-more="/runs/1"]').getAttribute("open"), null);
  await page.click('[data-remove="/runs/0"]');
  await gone(rows);
  await settled(page);
  assert.equal(await field("/runs/1/current").inputValue(), "a lot");
  assert.match(await saved(), /1 field is not understood/);
  await page.click('[data-remove="/runs/1"]');
  await gone(rows - 1);
  await settled(page);
  assert.doesNotMatch(await saved(), /not understood/);
  // Or it is taken back by a click.
  const was = await field("/runs/0/current").inputValue();
  await type("/runs/0/current", "a bit");
  await page.getByRole("button", { name: "Take back what was typed" }).click();
  assert.equal(await field("/runs/0/current").inputValue(), was);
  assert.doesNotMatch(await saved(), /not understood/);
  await discard();
});

test("the runs are numbered anew, moved by buttons, and each change is undone", async () => {
  await show(BUTT);
  const numbers = async () => { await settled(page); return page.locator('[data-p^="/runs/"][data-p$="/run"]').evaluateAll(all => all.map(own => own.value).join(" ")); };
  const currents = () => page.locator('td[data-field$="/current"] [data-p]').evaluateAll(all => all.map(own => own.value).join(" "));
  const first = await numbers();
  const was = await currents();
  await page.click('[data-copy="/runs/0"]');
  await page.waitForFunction(() => /^2/.test(document.querySelector('[data-p="/runs/1/run"]')?.value ?? ""));
  const copied = await numbers();
  assert.notEqual(copied, first);
  await type("/runs/1/current", "111 A");
  await settled(page);
  await page.click('[data-move="/runs/1"][data-way="up"]');
  await page.waitForFunction(() => document.querySelector('[data-p="/runs/0/current"]')?.value === "111 A");
  assert.equal(await numbers(), copied);
  assert.equal(await page.evaluate(() => document.activeElement?.getAttribute("data-move")), "/runs/0");
  await page.keyboard.press("Control+z");
  await page.waitForFunction(() => document.querySelector('[data-p="/runs/1/current"]')?.value === "111 A");
  await settled(page);
  await page.click("#undo");
  await settled(page);
  await page.waitForFunction(() => document.querySelector('[data-p="/runs/1/current"]')?.value !== "111 A");
  await page.click("#undo");
  await page.waitForFunction(() => document.querySelector("#saved")?.textContent === "saved");
  assert.equal(await numbers(), first);
  assert.equal(await currents(), was);
  assert.equal(await page.locator("#undo").isDisabled(), true);
});

test("nobody accepts what is missing or not understood, and its hint can be typed", async () => {
  await show(LAP);
  await type("/identification/revision", "");
  await found("/identification/revision").first().waitFor();
  assert.match(await found("/identification/revision").first().innerText(), /state the revision, such as/);
  await type("/parent_metals/0/thickness", "1/8 max");
  await found("/parent_metals/0/thickness").first().waitFor();
  await settled(page);
  assert.match(await found("/parent_metals/0/thickness").first().innerText(), /1\/8 in maximum/);
  for (const at of ["/identification/revision", "/parent_metals/0/thickness"]) {
    assert.equal(await found(at).getByRole("button", { name: "Accept, because …" }).count(), 0, at);
  }
  await discard();
});

test("the heading follows the title, and taking the file lets go of what was typed", async () => {
  await show(LAP);
  await type("/identification/title", "A title of the test");
  await page.waitForFunction(() => document.querySelector("#title")?.textContent === "A title of the test");
  await type("/parent_metals/0/thickness", "two bananas");
  await found("/parent_metals/0/thickness").first().waitFor();
  appendFileSync(join(server.folder, LAP), "# a line of another program\n");
  await page.waitForSelector("#conflict:not([hidden])");
  await page.click("#take-theirs");
  await page.waitForFunction(() => document.querySelector("#saved")?.textContent === "saved");
  assert.notEqual(await field("/parent_metals/0/thickness").inputValue(), "two bananas");
  assert.notEqual(await page.locator("#title").innerText(), "A title of the test");
});

test("the menu is read whole at 360 px, and closed by Escape and by a click elsewhere", async () => {
  await show(LAP);
  const size = page.viewportSize();
  for (const width of [360, 400]) {
    await page.setViewportSize({ width, height: 740 });
    await page.click(".menu > summary");
    const box = await page.locator(".menu > div").boundingBox();
    assert.ok(box.x >= 0 && box.x + box.width <= width, JSON.stringify(box));
    await page.keyboard.press("Escape");
    assert.equal(await page.locator(".menu").getAttribute("open"), null);
    await page.click(".menu > summary");
    await page.click("#number");
    assert.equal(await page.locator(".menu").getAttribute("open"), null);
  }
  await page.setViewportSize(size);
});

test("words of families are found, and back keeps what was looked for, ticked and typed", async () => {
  await page.goto(`http://${server.host}/`);
  const files = () => page.locator("#rows tbody th a").allInnerTexts();
  await page.fill("#search", "2mm");
  assert.equal((await files()).length, 1);
  await page.fill("#search", "stainless");
  assert.equal((await files()).length, 1);
  await page.locator("#rows tbody input").check();
  await page.locator("#rows tbody th a").click();
  await page.waitForURL(/\/d\//);
  await page.goBack();
  await page.waitForSelector("#rows tbody tr");
  assert.equal(await page.inputValue("#search"), "stainless");
  assert.equal((await files()).length, 1);
  assert.ok(await page.locator("#rows tbody input").isChecked());
  assert.match(await page.locator("#print-ticked").innerText(), /1 ticked/);
  await page.goto(`http://${server.host}/new`);
  await page.fill("input[name=metal]", "S355J2");
  await page.fill("#thickness", "6 mm");
  await page.getByText("horizontal", { exact: false }).first().waitFor();
  await page.goto(`http://${server.host}/bench`);
  await page.goBack();
  assert.equal(await page.inputValue("input[name=metal]"), "S355J2");
  assert.equal(await page.inputValue("#thickness"), "6 mm");
});

test("a list that is refused leaves no plan of another, and a good one no refusal", async () => {
  await page.goto(`http://${server.host}/job`);
  const plan = async words => { await page.fill("#joints", words); await page.click("#job button.main"); };
  await plan("A1; S235JR; 2 mm; lap; PB; 1 m; 1");
  await page.waitForSelector("#plan:not([hidden])");
  await plan("A1; S235JR; 2 mm; lap; PB; eighteen; 1");
  await page.waitForSelector("#status p");
  assert.equal(await page.locator("#plan").isVisible(), false);
  await plan("A1; S235JR; 2 mm; lap; PB; 1 m; 1");
  await page.waitForSelector("#plan:not([hidden])");
  assert.equal(await page.locator("#status p").count(), 0);
});
