// The search of the index page, in a page of stubs: no browser is needed.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import vm from "node:vm";

const script = readFileSync(new URL("../../templates/index.js", import.meta.url), "utf8");

/** A row as the page has it: cells in order, and thickness in the other units. */
function row(number, process, metal, thickness, also, position) {
  const cell = (textContent, column) => ({ textContent, dataset: column ? { column } : {} });
  const columns = [cell(process, "process"), cell(metal, "metal"), cell(thickness, "thickness"), cell(position, "position")];
  return { hidden: false, dataset: { also }, cells: [cell(number), cell("Title"), ...columns], querySelectorAll: () => columns, number };
}

/** The page with rows: what a search and lists leave of them. */
function page(rows) {
  const list = column => ({ dataset: { column }, value: "", options: [], add(option) { this.options.push(option); } });
  const lists = ["process", "metal", "thickness", "position"].map(list);
  const listeners = {};
  const form = { querySelectorAll: () => lists, addEventListener: (name, own) => { listeners[name] = own; }, hidden: true };
  const search = { value: "" };
  const count = { textContent: "" };
  const document = {
    getElementById: id => ({ filters: form, search, count })[id],
    querySelectorAll: () => rows,
  };
  vm.runInNewContext(script, { document, Option: function Option(text, value) { Object.assign(this, { text, value }); }, setTimeout });
  return {
    count,
    lists: Object.fromEntries(lists.map(own => [own.dataset.column, own])),
    find(words) {
      search.value = words;
      listeners.input();
      return rows.filter(own => !own.hidden).map(own => own.number);
    },
  };
}

const rows = () => [
  row("P-1", "141", "A240 304L", "2 mm", "0.079 in", "PA"),
  row("P-2", "135", "S355J2", "12 mm", "0.47 in", "PF"),
  row("P-3", "141, 111", "P235GH, A106 B", "3/8 in", "9.5 mm", "6G"),
  row("P-4", "111", "S235JR", "2.5 mm", "0.098 in", "PB"),
];

test("a number is found as a whole, in both systems of units", () => {
  const own = page(rows());
  assert.deepEqual(own.find("2 mm"), ["P-1"]);
  assert.deepEqual(own.find("2mm"), ["P-1"]);
  assert.deepEqual(own.find("12 mm"), ["P-2"]);
  assert.deepEqual(own.find("2.5"), ["P-4"]);
  assert.deepEqual(own.find("0.47 in"), ["P-2"]);
  assert.deepEqual(own.find("9.5"), ["P-3"]);
  assert.deepEqual(own.find("3/8"), ["P-3"]);
  assert.equal(own.count.textContent, "1 of 4 documents");
  assert.deepEqual(own.find("8 in"), []);
});

test("words of the trade are known", () => {
  const own = page(rows());
  assert.deepEqual(own.find("TIG"), ["P-1", "P-3"]);
  assert.deepEqual(own.find("stick"), ["P-3", "P-4"]);
  assert.deepEqual(own.find("vertical"), ["P-2"]);
  assert.deepEqual(own.find("tig 304l"), ["P-1"]);
});

test("filters look into lists", () => {
  const own = page(rows());
  assert.deepEqual(own.lists.process.options.map(option => option.value), ["", "111", "135", "141"]);
  own.lists.process.value = "111";
  assert.deepEqual(own.find(""), ["P-3", "P-4"]);
  own.lists.metal.value = "A106 B";
  assert.deepEqual(own.find(""), ["P-3"]);
});
