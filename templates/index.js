"use strict";
const form = document.getElementById("filters");
const search = document.getElementById("search");
const count = document.getElementById("count");
const lists = [...form.querySelectorAll("select")];
const plain = text => text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase();
const rows = [...document.querySelectorAll("#sheets tbody tr")].map(row => ({
  row,
  text: plain(row.textContent),
  values: Object.fromEntries([...row.querySelectorAll("[data-column]")].map(cell => [cell.dataset.column, cell.textContent.trim()])),
}));
for (const list of lists) {
  const values = [...new Set(rows.map(({ values }) => values[list.dataset.column]))].filter(Boolean);
  values.sort((a, b) => a.localeCompare(b, undefined, { numeric: true }));
  list.add(new Option("all", ""));
  for (const value of values) list.add(new Option(value, value));
}
function show() {
  const words = plain(search.value).split(/\s+/).filter(Boolean);
  let shown = 0;
  for (const { row, text, values } of rows) {
    const fits = words.every(word => text.includes(word)) && lists.every(list => !list.value || values[list.dataset.column] === list.value);
    row.hidden = !fits;
    if (fits) shown += 1;
  }
  count.textContent = shown === rows.length ? `${shown} sheet${shown === 1 ? "" : "s"}` : `${shown} of ${rows.length} sheets`;
}
form.addEventListener("input", show);
form.addEventListener("reset", () => setTimeout(show));
form.addEventListener("submit", event => event.preventDefault());
form.hidden = false;
show();
