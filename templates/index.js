"use strict";
const form = document.getElementById("filters");
const search = document.getElementById("search");
const count = document.getElementById("count");
const lists = [...form.querySelectorAll("select")];
// Words of the trade for what the table says in numbers or letters.
const trade = {
  tig: ["141", "gtaw"], gtaw: ["141"], stick: ["111", "smaw"], mma: ["111"], smaw: ["111"],
  mig: ["131", "135"], mag: ["135"], gmaw: ["131", "135"], fcaw: ["136", "114", "138"], saw: ["121"],
  flat: ["pa", "1g", "1f"], horizontal: ["pc", "pb", "2g", "2f"], vertical: ["pf", "pg", "3g", "3f"], overhead: ["pe", "pd", "4g", "4f"],
};
const parts = text => text.split(/[,;]\s*/).map(part => part.trim()).filter(Boolean);
// A number is found as a whole, with its unit where it has one: "2 mm" is neither 12 mm nor 2.5 mm, nor the 2 of P-2; a word is found within another.
const whole = (text, word) => /^[\d./]+( mm| in)?$/.test(word)
  ? new RegExp(`(^|[^\\d./])${word.replaceAll(".", "\\.")}(?![\\d/]|\\.\\d)`).test(text)
  : text.includes(word);
const wanted = text => (text.match(/[\d./]+\s*(?:mm|in)\b|\S+/g) ?? []).map(word => word.replace(/^([\d./]+)\s*(mm|in)$/, "$1 $2"));
const has = (text, word) => whole(text, word) || (Object.hasOwn(trade, word) ? trade[word] : []).some(other => whole(text, other));
const plain = text => text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
const rows = [...document.querySelectorAll("#sheets tbody tr")].map(row => ({
  row,
  text: plain([...row.cells].map(cell => cell.textContent).concat(row.dataset.also ?? "").join("\n")),
  values: Object.fromEntries([...row.querySelectorAll("[data-column]")].map(cell => [cell.dataset.column, cell.textContent.trim()])),
}));
for (const list of lists) {
  const values = [...new Set(rows.flatMap(({ values }) => parts(values[list.dataset.column])))];
  values.sort((a, b) => a.localeCompare(b, undefined, { numeric: true }));
  list.add(new Option("all", ""));
  for (const value of values) list.add(new Option(value, value));
}
function show() {
  const words = wanted(plain(search.value));
  let shown = 0;
  for (const { row, text, values } of rows) {
    const fits = words.every(word => has(text, word)) && lists.every(list => !list.value || parts(values[list.dataset.column]).includes(list.value));
    row.hidden = !fits;
    if (fits) shown += 1;
  }
  count.textContent = shown === rows.length ? `${shown} document${shown === 1 ? "" : "s"}` : `${shown} of ${rows.length} documents`;
}
form.addEventListener("input", show);
form.addEventListener("reset", () => setTimeout(show));
form.addEventListener("submit", event => event.preventDefault());
form.hidden = false;
show();
