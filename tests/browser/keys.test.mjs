// What only some procedures state, written in the form alone: several conditions, free choices, open runs, all positions, a
// holding time that grows with thickness, the cavity of a repair.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { held, open, serve, settled } from "./harness.mjs";

let server, browser, page;
const text = () => readFileSync(join(server.folder, "procedure-conditions.yaml"), "utf8");
const field = pointer => page.locator(`[data-p="${pointer}"]`);

before(async () => {
  server = await serve([["examples/codes/procedure-conditions.yaml"]]);
  browser = await open(server.address);
  ({ page } = browser);
  const id = await page.evaluate(async () => (await (await fetch("/rows")).json())[0].id);
  await page.goto(`http://${server.host}/d/${id}`);
  await page.waitForFunction(() => document.querySelector("#verdict")?.textContent);
});
after(async () => { await browser?.close(); await server?.end(); });

/** Opens what folds a field, types into it, and gives what stands in it once it is answered. */
async function type(pointer, words) {
  await field(pointer).evaluate(own => { for (let at = own.parentElement; at; at = at.parentElement) if (at instanceof HTMLDetailsElement) at.open = true; });
  if (await field(pointer).evaluate(own => own.tagName === "SELECT")) await field(pointer).selectOption(words);
  else await field(pointer).fill(words);
  await field(pointer).press("Tab");
  await settled(page);
  return field(pointer).inputValue();
}

test("a condition is added by its name, filled, and taken for a run", async () => {
  await page.fill('[data-name-for="/conditions"]', "heavy");
  await page.click('[data-add="/conditions"]');
  await page.waitForSelector('[data-plate="/conditions/heavy"][open]');
  assert.equal(await type("/conditions/heavy/thickness", "40 to 60 mm"), "40-60 mm");
  assert.equal(await type("/conditions/heavy/temperatures/preheating", "125 C min"), "125 °C minimum");
  await page.click('[data-copy="/runs/2"]');
  await page.waitForSelector('[data-p="/runs/3/condition"]');
  assert.equal(await type("/runs/3/run", "2-n"), "2-n");
  // The conditions of the document are offered, the new one too.
  await field("/runs/3/condition").focus();
  await page.waitForFunction(() => [...document.querySelectorAll("#choices-conditions option")].some(own => own.value === "heavy"));
  assert.equal(await type("/runs/3/condition", "heavy"), "heavy");
  await field("/processes/111/filler").focus();
  await page.waitForFunction(() => [...document.querySelectorAll("#choices-own-fillers option")].some(own => own.value === "fill"));
  await held(page, "conditions");
});

test("a choice is written with or, all positions with a word, a holding time by thickness", async () => {
  assert.equal(await type("/fillers/root/diameter", "2.5 or 3.2"), "2.5 or 3.2 mm");
  assert.equal(await type("/fillers/root/designation", "E7018 or E7016"), "E7018 or E7016");
  assert.equal(await type("/positions", "all"), "all");
  assert.equal(await page.locator('[id="u/positions"]').innerText(), "that is PA, PC, PF, PE");
  const treatment = "/temperatures/post_weld_heat_treatment";
  assert.equal(await type(`${treatment}/temperature`, "550 to 600 C"), "550-600 °C");
  assert.equal(await type(`${treatment}/time_by_thickness`, "1 h per 25 mm"), "1 h per 25 mm");
  assert.equal(await type(`${treatment}/time_by_thickness`, "as long as it takes"), "as long as it takes");
  await page.waitForSelector(`[data-field="${treatment}/time_by_thickness"] .finding`);
  assert.equal(await type(`${treatment}/time_by_thickness`, "2 min per mm"), "2 min per mm");
});

test("the cavity of a repair is a joint, and the whole is saved as it was typed", async () => {
  assert.equal(await type("/joint/type", "cavity"), "cavity");
  assert.equal(await type("/joint/penetration_depth", "8"), "8");
  await page.waitForSelector('[data-field="/joint/penetration_depth"] .finding');
  assert.equal(await type("/joint/penetration_depth", "8 mm"), "8 mm");
  assert.equal(await type("/joint/cavity_width", "20 mm"), "20 mm");
  assert.match(await page.locator("#verdict").innerText(), /values examined/);
  await page.keyboard.press("Control+s");
  await page.waitForFunction(() => document.querySelector("#saved")?.textContent === "saved");
  for (const words of ["heavy: {thickness: 40-60 mm", "condition: heavy", "diameter: 2.5 or 3.2 mm", "designation: E7018 or E7016", "positions: [all]",
    "time_by_thickness: 2 min per mm", "type: cavity", "cavity_width: 20 mm"]) assert.ok(text().includes(words), `${words}\n${text()}`);
  browser.clean();
});
