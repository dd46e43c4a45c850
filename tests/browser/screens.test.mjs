// Each screen, by mouse and by keyboard alone, narrow and wide, light and dark, silent and clean.
import assert from "node:assert/strict";
import { readFileSync, readdirSync, writeFileSync, appendFileSync } from "node:fs";
import { execFileSync } from "node:child_process";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { held, open, root, serve, settled } from "./harness.mjs";

let server, browser, page;
const file = name => join(server.folder, name);
const text = name => readFileSync(file(name), "utf8");

before(async () => {
  server = await serve([["procedures", "."], ["examples/inspection/procedure-revision-2.yaml"], ["examples/shop/shop.yaml"]]);
  browser = await open(server.address);
  ({ page } = browser);
});
after(async () => { await browser?.close(); await server?.end(); });

test("the folder lists, searches and filters", async () => {
  await page.goto(`http://${server.host}/`);
  const rows = () => page.locator("#rows tbody tr").count();
  const all = await rows();
  assert.ok(all > 30);
  for (const [search, file] of [["TIG", "141"], ["GTAW 304L", "304L"], ["P-001", "P-001"]]) {
    await page.fill("#search", search);
    const some = await rows();
    assert.ok(some > 0 && some < all, search);
    assert.match(await page.locator("#rows tbody tr").first().innerText(), new RegExp(file));
  }
  await page.fill("#search", "2 mm");
  for (const cell of await page.locator('#rows td[data-label="Thickness"]').allInnerTexts()) assert.doesNotMatch(cell, /^12 mm$/);
  await page.fill("#search", "");
  await page.selectOption('[data-filter="positions"]', "PF");
  const vertical = await page.locator('#rows td[data-label="Position"]').allInnerTexts();
  assert.ok(vertical.length > 0 && vertical.every(cell => cell.split(", ").includes("PF")));
  await page.click("button[type=reset]");
  await held(page, "folder");
  browser.clean();
});

test("the folder by keyboard alone", async () => {
  await page.goto(`http://${server.host}/`);
  await page.keyboard.press("Tab");
  assert.equal(await page.evaluate(() => document.activeElement?.textContent), "To the content");
  await page.keyboard.press("/");
  await page.keyboard.type("P-001");
  for (let count = 0; count < 30; count += 1) {
    await page.keyboard.press("Tab");
    if (await page.evaluate(() => document.activeElement?.matches("#rows a"))) break;
  }
  await page.keyboard.press("Enter");
  await page.waitForURL(/\/d\//);
  assert.match(await page.locator("#number").innerText(), /P-001/);
  browser.clean();
});

async function show(name) {
  const id = await page.evaluate(async name => (await (await fetch("/rows")).json()).find(row => row.file === name).id, name);
  await page.goto(`http://${server.host}/d/${id}`);
  await page.waitForFunction(() => document.querySelector("#verdict")?.textContent);
  return id;
}

test("a document is changed at the field, and only its line in the file", async () => {
  await show("lap-fillet-2-carbon-141.yaml");
  const before = text("lap-fillet-2-carbon-141.yaml");
  const current = page.locator('[data-p="/runs/0/current"]');
  const was = await current.inputValue();
  await current.fill("300 amps");
  await current.press("Tab");
  await page.waitForSelector('[data-row-found="/runs/0"] .finding');
  assert.equal(await current.inputValue(), "300 A");
  assert.match(await page.locator("#saved").innerText(), /not saved/);
  assert.equal(text("lap-fillet-2-carbon-141.yaml"), before, "nothing is written before a save");
  await held(page, "document");
  await page.keyboard.press("Control+s");
  await page.waitForFunction(() => document.querySelector("#saved")?.textContent === "saved");
  const after = text("lap-fillet-2-carbon-141.yaml").split("\n");
  const changed = after.filter((line, place) => line !== before.split("\n")[place]);
  assert.equal(changed.length, 1);
  assert.match(changed[0], /300 A/);
  await current.fill(was);
  await current.press("Tab");
  await settled(page);
  await page.keyboard.press("Control+s");
  await page.waitForFunction(() => document.querySelector("#saved")?.textContent === "saved");
  assert.equal(text("lap-fillet-2-carbon-141.yaml"), before);
  browser.clean();
});

test("what is not yet right stays in the field and out of the file", async () => {
  await show("lap-fillet-2-carbon-141.yaml");
  const thickness = page.locator('[data-p="/parent_metals/0/thickness"]');
  await thickness.fill("two bananas");
  await thickness.press("Tab");
  await page.waitForSelector('[data-field="/parent_metals/0/thickness"] .finding');
  assert.equal(await thickness.inputValue(), "two bananas");
  assert.match(await page.locator("#saved").innerText(), /not understood/);
  await thickness.fill('1/8"');
  await thickness.press("Tab");
  await page.waitForFunction(() => document.querySelector('[data-p="/parent_metals/0/thickness"]')?.value === "1/8 in");
  await page.waitForFunction(() => !/understood/.test(document.querySelector("#saved")?.textContent ?? ""));
  page.once("dialog", dialog => dialog.accept());
  await page.click("#discard");
  await page.waitForFunction(() => document.querySelector("#saved")?.textContent === "saved");
  browser.clean();
});

test("a finding is taken away by its value, or accepted for a reason", async () => {
  await show("lap-fillet-2-carbon-141.yaml");
  const current = page.locator('[data-p="/runs/0/current"]');
  await current.fill("300 A");
  await current.press("Tab");
  const finding = page.locator('[data-row-found="/runs/0"] .finding').first();
  await finding.waitFor();
  const words = await finding.locator("p").first().textContent();
  await finding.getByRole("button", { name: "Accept, because …" }).click();
  await page.fill("#accept-reason", "A trial for the test of the page.");
  await page.fill("#accept-by", "A. Tester");
  await page.getByRole("button", { name: "Accept", exact: true }).click();
  await page.waitForFunction(words => ![...document.querySelectorAll('[data-row-found="/runs/0"] .finding p')].some(own => own.textContent === words), words);
  assert.match(await page.locator("#form").innerText(), /Deviation 1/);
  page.once("dialog", dialog => dialog.accept());
  await page.click("#discard");
  await page.waitForFunction(() => document.querySelector("#saved")?.textContent === "saved");
  browser.clean();
});

test("the runs are a table for the keyboard: down, up, Enter, copy and take out", async () => {
  await show("butt-10-s355-135.yaml");
  const count = () => page.locator("tr[data-row]").count();
  const first = await count();
  const cut = await page.locator(".runs td[data-field] > input").evaluateAll(all => all.filter(own => own.scrollWidth > own.clientWidth).map(own => own.value));
  assert.deepEqual(cut, [], "every value is read whole");
  await page.focus('[data-p="/runs/0/current"]');
  await page.keyboard.press("ArrowDown");
  assert.equal(await page.evaluate(() => document.activeElement?.getAttribute("data-p")), "/runs/1/current");
  await page.keyboard.press("ArrowUp");
  await page.keyboard.press("Enter");
  assert.equal(await page.evaluate(() => document.activeElement?.getAttribute("data-p")), "/runs/1/current");
  await page.locator('[data-copy="/runs/0"]').focus();
  await page.keyboard.press("Enter");
  await page.waitForFunction(first => document.querySelectorAll("tr[data-row]").length === first + 1, first);
  await page.locator('[data-remove="/runs/1"]').focus();
  await page.keyboard.press("Enter");
  await page.waitForFunction(first => document.querySelectorAll("tr[data-row]").length === first, first);
  assert.match(await page.locator('[data-figure="heat"]').first().innerText(), /kJ\/mm/);
  // The text is again what it was, so there is nothing to save.
  await page.waitForFunction(() => document.querySelector("#saved")?.textContent === "saved");
  browser.clean();
});

/** What the form shows: its fields in order, each with its value and what stands behind it, its headings and buttons. */
const shown = own => own.evaluate(() => [...document.querySelectorAll("#form :is([data-p], [data-section], h2, h3, summary, [data-row], [data-remove], [data-add])")].map(own => {
  const copy = own.cloneNode(true);
  for (const found of copy.querySelectorAll(".tally, option")) found.remove();
  const words = own.matches("[data-p], [data-section], [data-row]") ? "" : copy.textContent.replace(/\s+/g, " ").trim();
  const behind = own.tagName === "SELECT" ? own.options[0]?.textContent : own.placeholder;
  return [own.tagName, own.id, own.value ?? "", behind ?? "", own.dataset.remove ?? own.dataset.add ?? "", words].join("|");
}));

test("a form that was changed part by part is the form as it is rendered whole", async () => {
  const id = await show("butt-10-s355-135.yaml");
  const other = await page.context().newPage();
  const same = async what => {
    await settled(page);
    await other.goto(`http://${server.host}/d/${id}`);
    for (const row of await page.locator("details[data-more][open]").evaluateAll(all => all.map(own => own.dataset.more))) {
      await other.locator(`[data-more="${row}"] > summary`).click();
      await other.locator(`[data-more="${row}"] [data-p]`).first().waitFor({ state: "attached" });
    }
    assert.deepEqual(await shown(page), await shown(other), what);
  };
  const type = async (pointer, words) => { await page.locator(`[data-p="${pointer}"]`).fill(words); await page.locator(`[data-p="${pointer}"]`).press("Tab"); };
  const rows = await page.locator("tr[data-row]").count();
  await page.locator('[data-more="/runs/1"] > summary').click();
  await page.locator('[data-p="/runs/1/polarity"]').waitFor({ state: "attached" });
  await same("what stands below a row");
  // What stood below the rows becomes a column, under the hands of whoever types it.
  const polarity = page.locator('[data-p="/runs/1/polarity"]');
  await polarity.evaluate(own => { for (let at = own.parentElement; at; at = at.parentElement) if (at instanceof HTMLDetailsElement) at.open = true; });
  await polarity.focus();
  await polarity.selectOption("DCEP");
  await page.waitForSelector('td[data-field="/runs/1/polarity"]');
  assert.equal(await page.evaluate(() => document.activeElement?.getAttribute("data-p")), "/runs/1/polarity");
  await same("a new column");
  await page.locator('[data-copy="/runs/0"]').click();
  await page.waitForFunction(rows => document.querySelectorAll("tr[data-row]").length === rows + 1, rows);
  await same("a row more");
  await type("/runs/0/current", "");
  await same("a value less");
  await type("/processes/135/wire_feed_speed", "7-8 m/min");
  await same("what the process states stands behind the runs");
  await page.locator('[data-remove="/runs/1"]').click();
  await page.waitForFunction(rows => document.querySelectorAll("tr[data-row]").length === rows, rows);
  await same("a row less");
  await page.locator('[data-add="/parent_metals"]').click();
  await page.waitForSelector('[data-p="/parent_metals/2/specification"], [data-p="/parent_metals/1/specification"]');
  await same("a metal more");
  await other.close();
  page.once("dialog", dialog => dialog.accept());
  await page.click("#discard");
  await page.waitForFunction(() => document.querySelector("#saved")?.textContent === "saved");
  browser.clean();
});

test("the sheet beside the form follows what is typed, and the text has marks", async () => {
  await show("lap-fillet-2-carbon-141.yaml");
  const sheet = page.frameLocator("#sheet");
  await sheet.locator("h1").first().waitFor();
  const title = page.locator('[data-p="/identification/title"]');
  await title.fill("Lap of the browser test");
  await page.waitForFunction(() => document.querySelector("#sheet")?.contentDocument?.body.textContent?.includes("Lap of the browser test"));
  for (const name of ["Bench card", "Review", "Text of the file"]) await page.getByRole("tab", { name }).click();
  await page.waitForFunction(() => document.querySelector("#text")?.shadowRoot?.textContent?.includes("Lap of the browser test"));
  await held(page, "text");
  page.once("dialog", dialog => dialog.accept());
  await page.click("#discard");
  await page.waitForFunction(() => document.querySelector("#saved")?.textContent === "saved");
  browser.clean();
});

test("another program's change is shown, and a conflict loses nothing", async () => {
  const name = "butt-3-carbon-141.yaml";
  await show(name);
  const before = text(name);
  const title = before.match(/title: "?([^",}\n]+)/)[1];
  writeFileSync(file(name), before.replace(title, `${title} by an editor`));
  await page.waitForFunction(() => /by an editor/.test(document.querySelector('[data-p="/identification/title"]')?.value ?? ""));
  await page.locator('[data-p="/identification/title"]').fill("Mine");
  await page.locator('[data-p="/identification/title"]').press("Tab");
  await page.waitForFunction(() => document.querySelector("#saved")?.textContent === "not saved");
  appendFileSync(file(name), "# and another line\n");
  await page.waitForSelector("#conflict:not([hidden])");
  await held(page, "conflict");
  await page.click("#keep-mine");
  await page.waitForFunction(() => document.querySelector("#saved")?.textContent === "saved");
  assert.match(text(name), /Mine/);
  browser.noise.length = 0;
  writeFileSync(file(name), before);
});

test("a new procedure from facts, as a copy and empty", async () => {
  await page.goto(`http://${server.host}/new`);
  await page.waitForFunction(() => !document.querySelector("#keep")?.disabled);
  await held(page, "new");
  await page.selectOption("select[name=process]", "141");
  await page.fill("input[name=metal]", "304L");
  await page.getByRole("button", { name: "2 mm", exact: true }).click();
  await page.locator("input[name=joint][value=butt]").check({ force: true });
  await page.waitForFunction(() => document.querySelector("input[name=position]:checked")?.value === "PA");
  await page.waitForFunction(() => document.querySelector("#sheet")?.contentDocument?.body?.textContent?.includes("304L"));
  await page.fill("#name", "from-facts");
  await page.click("#keep");
  await page.waitForURL(/\/d\//);
  assert.match(text("from-facts.yaml"), /304L/);
  await page.goto(`http://${server.host}/new`);
  await page.locator("input[name=from][value=empty]").check({ force: true });
  await page.fill("input[name=number]", "P-900");
  await page.fill("#name", "from-nothing");
  await page.waitForFunction(() => !document.querySelector("#keep")?.disabled);
  await page.click("#keep");
  await page.waitForURL(/\/d\//);
  assert.match(text("from-nothing.yaml"), /P-900/);
  await page.goto(`http://${server.host}/new`);
  await page.locator("input[name=from][value=copy]").check({ force: true });
  await page.selectOption("select[name=copy]", { index: 1 });
  await page.fill("input[name=number]", "P-901");
  await page.fill("#name", "from-another");
  await page.click("#keep");
  await page.waitForURL(/\/d\//);
  assert.match(text("from-another.yaml"), /P-901/);
  browser.clean();
});

test("something that arrived: proved, changed, rubbish", async () => {
  const out = join(server.folder, "..", `${server.folder.split("/").pop()}-sheets`);
  const binary = process.env.SEAMWRIGHT ?? join(root, "target/debug/seamwright");
  try { execFileSync(binary, ["render", file("lap-fillet-2-carbon-141.yaml"), "--out", out, "--to", "pdf,html"], { stdio: "pipe" }); } catch { /* findings */ }
  const html = readdirSync(out).find(name => name.endsWith(".html"));
  const drop = async (name, bytes) => {
    await page.goto(`http://${server.host}/`);
    await page.setInputFiles("#file", { name, mimeType: "application/octet-stream", buffer: bytes });
    await page.waitForURL(/\/arrived\//);
    return page.locator("#verdict-title").innerText();
  };
  assert.match(await drop("sheet.pdf", readFileSync(join(out, html.replace(".html", ".pdf")))), /is what its source gives/);
  await held(page, "arrived");
  await page.fill("input[name=reviewer]", "I. Nspector");
  const saved = page.waitForEvent("download");
  await page.click("#save-review");
  assert.match((await saved).suggestedFilename(), /review/);
  const changed = readFileSync(join(out, html), "utf8").replace(/mm/, "cm");
  assert.match(await drop("sheet.html", Buffer.from(changed)), /Not proved/);
  assert.match(await drop("rubbish.pdf", Buffer.alloc(1 << 20, 0x41)), /Not proved/);
  browser.clean();
});

test("two revisions are compared, and ticked documents printed", async () => {
  await page.goto(`http://${server.host}/compare`);
  await page.selectOption("select[name=old]", { index: 1 });
  await page.selectOption("select[name=new]", { index: 2 });
  await page.click("form button.main");
  await page.waitForLoadState();
  const terms = await page.locator("section[aria-labelledby=compared-title] tbody th").allInnerTexts();
  assert.equal(new Set(terms).size, terms.length, `each row says what changed: ${terms}`);
  await held(page, "compare");
  await page.goto(`http://${server.host}/print`);
  await held(page, "print");
  await page.locator("#tick-all").check();
  const bytes = await page.evaluate(async () => {
    const query = new URLSearchParams(new FormData(document.querySelector("#print")));
    const answer = await fetch(`/print/binder?${query}`);
    return [answer.status, (await answer.text()).slice(0, 5)];
  });
  assert.deepEqual(bytes, [200, "%PDF-"]);
  browser.clean();
});
