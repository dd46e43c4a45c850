// Renews the pictures of the page in docs/: `node tests/browser/pictures.mjs`.
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { open, root, run, settled } from "./harness.mjs";

const place = mkdtempSync(join(tmpdir(), "pictures-"));
const folder = join(place, "workshop");
mkdirSync(folder);
cpSync(join(root, "procedures"), join(folder, "procedures"), { recursive: true });
cpSync(join(root, "examples/week/shop.yaml"), join(folder, "shop.yaml"));
const server = await run(folder, ["--lan"]);
/** A picture once what moves has come to rest, with an element at a height of the window. */
async function keep(page, name, selector, top = 0) {
  for (const _ of selector ? [1, 2] : []) {
    await page.evaluate(([selector, top]) => window.scrollBy(0, document.querySelector(selector).getBoundingClientRect().top - top), [selector, top]);
    await page.waitForTimeout(500);
  }
  await page.screenshot({ path: join(root, `docs/${name}.png`) });
}
const shown = (page, words) => page.waitForFunction(
  words => document.querySelector("#sheet")?.contentDocument?.body?.textContent?.includes(words), words);

const desk = await open(server.address, { viewport: { width: 1180, height: 800 } });
const { page } = desk;
// The folder is shown by its own name.
const named = () => page.evaluate(place => {
  for (const own of document.querySelectorAll("header *")) if (own.textContent === place) own.textContent = "~/workshop";
}, folder);

await page.getByRole("link", { name: "New procedure" }).click();
await page.selectOption("select[name=process]", "141");
await page.waitForFunction(() => !document.querySelector("#keep")?.disabled);
await shown(page, "S235JR");
await named();
await keep(page, "page-new");

await page.goto(`http://${server.host}/`);
await page.getByRole("link", { name: "P-001", exact: false }).first().click();
await page.waitForURL(/\/d\//);
await page.getByRole("tab", { name: "Bench card" }).click();
const current = page.locator('[data-p="/runs/0/current"]');
await current.fill("300 A");
await current.press("Tab");
await page.waitForSelector('[data-row-found="/runs/0"] .finding.error');
await settled(page);
await shown(page, "300");
await keep(page, "page-document", '[data-p="/runs/0/current"]', 130);
page.once("dialog", dialog => dialog.accept());
await page.click("#discard");
await page.waitForFunction(() => document.querySelector("#saved")?.textContent === "saved");

await page.goto(`http://${server.host}/job`);
await page.fill("#joints", readFileSync(join(root, "examples/week/joints.csv"), "utf8"));
await page.click("#job button.main");
await page.waitForSelector("#plan tbody tr");
await page.fill("#keep-job input[name=title]", "Frames and trays, week 9");
await page.click("#keep-job button.main");
await page.waitForURL(/\/d\//);
await shown(page, "Frames and trays");
await page.setViewportSize({ width: 1280, height: 900 });
await settled(page);
await keep(page, "page-job", '[data-p="/joints/0/joint"]', 180);
await desk.close();

const phone = await open(server.bench, { viewport: { width: 360, height: 740 } });
await phone.page.locator("section", { hasText: "P-001" }).getByRole("link", { name: "SI units" }).click();
await phone.page.frameLocator("#frames iframe:not([hidden])").locator("body").getByText("P-001").first().waitFor();
await keep(phone.page, "page-bench");
await phone.close();
await server.end();
rmSync(place, { recursive: true, force: true });
