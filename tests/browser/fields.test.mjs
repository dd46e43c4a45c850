// Every field of one starter for each process: a value typed, seen in the text of the file, and taken back.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { open, serve } from "./harness.mjs";

/** One starter for each process, with a fillet or a groove, on plate or on pipe. */
const STARTERS = ["lap-fillet-2-carbon-141", "tee-fillet-10-s355-111", "butt-10-s355-135"];

/** A value by the format of a quantity, where no example is given or the example stands there already. */
const QUANTITIES = {
  length: ["7 mm", "8 mm"], angle: ["17 °", "18 °"], current: ["77 A", "78 A"], voltage: ["17 V", "18 V"], speed: ["77 mm/min", "78 mm/min"],
  flow: ["7 L/min", "8 L/min"], temperature: ["77 °C", "78 °C"], "time-span": ["7 s", "8 s"], frequency: ["77 Hz", "78 Hz"], percent: ["17 %", "18 %"],
};

let server, browser, page;

before(async () => {
  server = await serve(STARTERS.map(name => [`procedures/${name}.yaml`]));
  browser = await open(server.address);
  ({ page } = browser);
});
after(async () => { await browser?.close(); await server?.end(); });

for (const name of STARTERS) {
  test(`each field of ${name} is typed into, and taken back`, async t => {
    await page.goto(`http://${server.host}/`);
    const id = await page.evaluate(async file => (await (await fetch("/rows")).json()).find(row => row.file === file).id, `${name}.yaml`);
    await page.goto(`http://${server.host}/d/${id}`);
    await page.waitForFunction(() => document.querySelector("#verdict")?.textContent);
    const walked = await page.evaluate(async quantities => {
      const doc = JSON.parse(document.querySelector("#data").textContent);
      const sections = doc.form.sections;
      // Runs are alike: the first stands for them. What it may state beside its row comes when it is opened.
      const more = document.querySelector('[data-more="/runs/0"]');
      more.open = true;
      while (!more.querySelector("[data-p]")) await new Promise(done => setTimeout(done, 5));
      const { groups: below } = await (await fetch(`/d/${doc.id}/below?at=/runs/0`)).json();
      const groups = [...sections.flatMap(own => [...own.groups, ...own.plates.flatMap(plate => plate.groups)]), ...below];
      const fields = [...sections.flatMap(own => own.table?.rows[0]?.fields ?? []), ...groups.flatMap(own => [...own.fields, ...own.more, ...own.elsewhere])];
      // The answer to what was typed, as the page gets it.
      let answer = null;
      const ask = window.fetch;
      window.fetch = async (...asked) => {
        const got = await ask(...asked);
        if (String(asked[0]).endsWith("/edit")) answer = await got.clone().json();
        return got;
      };
      const answered = async () => {
        do await new Promise(done => setTimeout(done, 5)); while (document.body.hasAttribute("data-busy") || !answer);
      };
      const type = async (pointer, value) => {
        const field = document.querySelector(`[data-p="${CSS.escape(pointer)}"]`);
        if (!field) return null;
        for (let at = field.parentElement; at; at = at.parentElement) if (at instanceof HTMLDetailsElement) at.open = true;
        answer = null;
        field.focus();
        field.value = value;
        field.dispatchEvent(new Event("change", { bubbles: true }));
        await answered();
        return answer;
      };
      const values = field => {
        const texts = {
          quantity: [field.example, ...(quantities[field.format] ?? [])],
          word: field.words,
          list: [field.example, ...field.words, "Trial 7"],
          lines: ["A line of the trial."],
          composition: ["Ar 90, CO2 10", "C 0.1, Mn 1"],
          pairs: ["one: two"],
          date: ["2026-02-03"],
          text: [field.example, "7", "Trial 7"],
        };
        return texts[field.kind].filter(own => own && own !== field.value);
      };
      const wrong = [];
      let count = 0;
      for (const field of fields) {
        const before = doc.text;
        // A word in the place of a section would take the place of what is stated in it.
        if (fields.some(own => own.value && own.pointer.startsWith(`${field.pointer}/`))) continue;
        let needed = null;
        let seen = false;
        let why = "no value to try";
        for (const value of values(field)) {
          let typed = await type(field.pointer, value);
          if (!typed) { why = "not on the page"; break; }
          const lacks = typed.refused?.[0]?.lacks;
          needed = lacks ? fields.find(own => own.pointer === lacks) : null;
          // What was typed first waits in its field, and is taken with what was missing.
          if (needed) typed = await type(needed.pointer, values(needed)[0]);
          why = typed.error ?? typed.refused?.[0]?.message ?? (typed.text === before ? `\`${value}\` is not in the text` : "");
          if (why) continue;
          // What stands in the field is what stands in the file.
          const stated = new Map(typed.values);
          seen = stated.get(field.pointer) !== undefined && stated.get(field.pointer) === document.querySelector(`[data-p="${CSS.escape(field.pointer)}"]`)?.value;
          why = `the field shows \`${document.querySelector(`[data-p="${CSS.escape(field.pointer)}"]`)?.value}\`, the file has \`${stated.get(field.pointer)}\``;
          break;
        }
        // What took the place of a word such as `none` is taken back by that word.
        const word = fields.find(own => own.value && field.pointer.startsWith(`${own.pointer}/`));
        let back = word ? await type(word.pointer, word.value) : await type(field.pointer, field.value);
        if (needed) back = await type(needed.pointer, needed.value);
        if (back && back.text !== before) {
          const lost = before.split("\n").filter(line => !back.text.includes(line))[0] ?? "";
          wrong.push(`${field.pointer}: taking it back leaves another text than before: ${lost}`);
          answer = null;
          await ask(`/d/${doc.id}/discard`, { method: "POST", headers: { "x-seamwright-token": document.querySelector("meta[name=token]").content }, body: "{}" });
          return { count, wrong };
        }
        if (!seen) wrong.push(`${field.pointer}: ${why}`);
        count += 1;
      }
      return { count, wrong };
    }, QUANTITIES);
    t.diagnostic(`${walked.count} fields`);
    assert.deepEqual(walked.wrong, []);
    assert.ok(walked.count > 80, String(walked.count));
    await page.waitForFunction(() => document.querySelector("#saved")?.textContent === "saved");
    browser.clean();
  });
}
