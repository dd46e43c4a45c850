// Each field and button of New, Job and Arrived is used, and does what it says.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readFileSync, readdirSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { open, root, serve } from "./harness.mjs";

let server, browser, page;
const text = name => readFileSync(join(server.folder, name), "utf8");

before(async () => {
  server = await serve([["procedures/lap-fillet-2-carbon-141.yaml"], ["examples/shop/shop.yaml"], ["examples/submitted/submitted.yaml"]], ["--shop", "FOLDER/shop.yaml"]);
  browser = await open(server.address);
  ({ page } = browser);
});
after(async () => { await browser?.close(); await server?.end(); });

/** Does something that changes the facts, and gives the draft that is made of them. */
async function drafted(act) {
  const [answer] = await Promise.all([page.waitForResponse(own => own.url().endsWith("/new/draft")), act()]);
  const draft = await answer.json();
  assert.ok(draft.text || draft.refused, "a draft, or why there is none");
  return draft;
}

test("each fact of a new procedure is heeded", async t => {
  await drafted(() => page.goto(`http://${server.host}/new`));
  await drafted(() => page.locator("input[name=in_shop]").uncheck());
  const radios = async name => page.locator(`input[name=${name}]:enabled`).evaluateAll(all => all.map(own => own.value));
  const check = (name, value) => page.locator(`input[name=${name}][value=${value}]`).check({ force: true });
  let used = 0;
  for (const process of await page.locator("select[name=process] option").evaluateAll(all => all.map(own => own.value))) {
    const draft = await drafted(() => page.selectOption("select[name=process]", process));
    assert.ok(draft.refused || draft.text.includes(process), process);
    used += 1;
  }
  await drafted(() => page.selectOption("select[name=process]", "135"));
  for (const joint of ["butt", "lap", "corner", "tee"]) {
    const draft = await drafted(() => check("joint", joint));
    assert.ok(draft.refused || draft.text.includes(`type: ${joint}`), joint);
    used += 1;
  }
  await drafted(async () => { if (await page.locator("input[name=position][value=PB]").isChecked()) await check("position", "PA"); else await check("position", "PB"); });
  for (const position of await radios("position")) {
    if (await page.locator(`input[name=position][value=${position}]`).isChecked()) continue;
    const draft = await drafted(() => check("position", position));
    assert.ok(draft.refused || draft.text.includes(position), position);
    used += 1;
  }
  if (!await page.locator("input[name=position][value=PB]").isChecked()) await drafted(() => check("position", "PB"));
  for (const button of await page.locator("[data-put]").all()) {
    const [value, into] = [await button.getAttribute("data-put"), await button.getAttribute("data-into")];
    const draft = await drafted(() => button.click());
    assert.equal(await page.inputValue(into), value);
    assert.ok(draft.refused || draft.text.includes(value), `${into}: ${value}`);
    used += 1;
  }
  await drafted(() => page.fill("#leg", ""));
  await drafted(() => page.fill("#thickness", "8 mm"));
  for (const [field, value, wanted] of [
    ["input[name=metal]", "S355J2", /S355J2/], ["input[name=to]", "S235JR", /S235JR/], ["input[name=length]", "2.4 m", /2\.4 m/],
    ["#leg", "5 mm", /leg: 5 mm/], ["input[name=title]", "Bracket of the trial", /Bracket of the trial/], ["input[name=number]", "P-777", /P-777/],
  ]) {
    const draft = await drafted(() => page.fill(field, value));
    assert.match(draft.text ?? draft.refused, wanted, field);
    used += 1;
  }
  const pipe = await drafted(async () => { await check("joint", "butt"); await page.fill("input[name=diameter]", "168.3 mm"); });
  assert.match(pipe.text + pipe.refused, /168\.3 mm/);
  await drafted(() => page.fill("input[name=diameter]", ""));
  await drafted(() => page.locator("input[name=in_shop]").check());
  const machines = await page.locator("select[name=machine] option").evaluateAll(all => all.map(own => own.value).filter(Boolean));
  // Every machine is the one of a draft by a process that it welds.
  await drafted(() => page.fill("input[name=to]", ""));
  await drafted(() => page.fill("input[name=metal]", "S235JR"));
  await drafted(() => check("joint", "tee"));
  await drafted(() => page.fill("#thickness", "3 mm"));
  await drafted(() => page.fill("#leg", ""));
  for (const machine of machines) {
    const told = [];
    await drafted(() => page.selectOption("select[name=machine]", machine));
    for (const process of ["141", "135", "111", "136", "114"]) {
      const draft = await drafted(() => page.selectOption("select[name=process]", process));
      told.push(draft.refused ?? "");
      if (draft.text?.includes(machine)) { told.length = 0; break; }
    }
    assert.deepEqual(told, [], machine);
  }
  t.diagnostic(`${used + machines.length} choices`);
  browser.clean();
});

test("each column and button of a job is heeded", async () => {
  await page.goto(`http://${server.host}/job`);
  await page.fill("#joints", "Joint\tMetal\tThickness\tType\tPosition\tLength\tPieces\tProcedure\tDrawing\nA1\tS235JR\t2 mm\tlap\tPB\t30 m\t400\tP-001\tD-17\nA2\tS235JR\t60 mm\tbutt\tPA\t1 m\t1\t\t\n");
  await page.click("#job button.main");
  await page.waitForSelector("#plan tbody tr:nth-child(2)");
  assert.match(await page.locator("#plan tbody tr a", { hasText: "P-001" }).getAttribute("href"), /^\/d\//);
  assert.equal(await page.getByRole("link", { name: "Write one" }).getAttribute("href"), "/new");
  assert.match(await page.locator("#total").innerText(), /\d/);
  assert.ok(await page.locator("#buy dt").count() > 0);
  await page.fill("#keep-job input[name=number]", "J-77");
  await page.fill("#keep-job input[name=title]", "Trays of the trial");
  await page.click("#keep-job button.main");
  await page.waitForURL(/\/d\//);
  for (const words of ["J-77", "Trays of the trial", "D-17", "P-001"]) assert.ok(text("j-77.yaml").includes(words), words);
  await page.goto(`http://${server.host}/job`);
  assert.match(await page.locator("main").innerText(), /Jobs of this folder[\s\S]*J-77/);
  browser.clean();
});

test("each field and button of what arrived is heeded", async () => {
  const binary = process.env.SEAMWRIGHT ?? join(root, "target/debug/seamwright");
  const out = `${server.folder}-sheets`;
  try { execFileSync(binary, ["render", join(root, "examples/submitted/submitted.yaml"), "--out", out, "--to", "html"], { stdio: "pipe" }); } catch { /* its faults are what is looked for */ }
  await page.goto(`http://${server.host}/`);
  await page.setInputFiles("#file", join(out, readdirSync(out).find(name => name.endsWith(".html"))));
  await page.waitForURL(/\/arrived\//);
  assert.match(await page.locator("main").innerText(), /Beside our own|We have/);
  const shown = () => page.evaluate(() => document.querySelector("#sheet").contentDocument?.body?.textContent ?? "");
  for (const kind of ["procedure", "review"]) {
    await page.click(`[data-kind=${kind}]`);
    await page.waitForFunction(kind => document.querySelector("#sheet").contentWindow?.location.href.endsWith(`kind=${kind}`) && document.querySelector("#sheet").contentDocument?.readyState === "complete", kind);
    assert.ok((await shown()).length > 100, kind);
  }
  const findings = await page.locator("#replies > li").count();
  const dispositions = await page.locator('[data-of="0"] option').allInnerTexts();
  assert.equal(dispositions.length, 4);
  for (let at = 0; at < findings; at += 1) {
    await page.selectOption(`[data-of="${at}"]`, dispositions[at % dispositions.length]);
    await page.fill(`[data-reply="${at}"]`, `Reply ${at} of the trial`);
  }
  await page.fill("input[name=reviewer]", "I. Nspector");
  await page.fill("input[name=date]", "2026-02-03");
  await page.fill("textarea[name=remarks]", "Seen at the trial.");
  for (const disposition of ["accepted", "accepted with comments", "returned"]) {
    await page.selectOption("select[name=disposition]", disposition);
    const [saved] = await Promise.all([page.waitForEvent("download"), page.click("#save-review")]);
    const review = readFileSync(await saved.path(), "utf8");
    const wanted = [`<strong>${disposition}</strong>`, "I. Nspector", "2026-02-03", "Seen at the trial.", ...dispositions.slice(0, findings)];
    for (let at = 0; at < findings; at += 1) wanted.push(`Reply ${at} of the trial`);
    for (const words of wanted) assert.ok(review.includes(words), `${disposition}: ${words}`);
  }
  await page.click("#print-review");
  await page.waitForSelector("#review-shown:not([hidden])");
  assert.match(await shown(), /Reply 0 of the trial/);
  await page.fill("#keep-name", "kept-from-them");
  await page.getByRole("button", { name: "Keep its source as a document" }).click();
  await page.waitForURL(/\/d\//);
  assert.equal(text("kept-from-them.yaml"), readFileSync(join(root, "examples/submitted/submitted.yaml"), "utf8"));
  browser.clean();
});
