// What the pages do in the browser: hand on what is typed, show what the program answers. No rule and no limit stands here.
// The page of a document is in document.js.
// @ts-check

/**
 * @typedef {{severity: string, check: string, message: string, hint: string | null, pointer: string, place: string,
 *   limit: string | null, source: string | null, fix: {pointer: string, value: any} | null, reason: string | null}} Found
 * @typedef {{message: string, hint: string | null, pointer: string, line: number, from: number, to: number}} Wrong
 * @typedef {{digest: string, verdict: string, worst: string, findings: Found[], accepted: Found[], faults: Wrong[],
 *   usual: Record<string, {limit: string, source: number}>, sources: string[], means: Record<string, string>, asks: {pointer: string, line: string, standard: string}[],
 *   figures: {index: number}[],
 *   totals: {name: string, value: string, how: string}[], machines: string[], trouble: string[], sheets: string[],
 *   cautions: string[], us: boolean}} Live
 * @typedef {{id: string, file: string, kind: string, number: string, title: string, base: string, changed_on_disk: boolean, on_disk: string | null,
 *   unsaved: boolean, text: string, live: Live, shape: string}} Doc
 * @typedef {{n: number, base: string, unsaved: boolean, text: string, live: Live, form: string | null, parts: [string, string][], shape: string,
 *   moved: Moved[], values: [string, string][], inherited: [string, string][], refused: {pointer: string, message: string, hint: string | null}[], sheet: string | null}} Edited
 * @typedef {{list: string, from: number | null, to: number | null}} Moved an entry that came in, went out or went elsewhere
 * @typedef {{text: string, moves: Moved[], at: string}} Step what stood before a change, and the field of it
 * @typedef {{id: string, file: string, kind: string, number: string, revision: string, title: string, processes: string[],
 *   metals: string[], thicknesses: string[], positions: string[], status: string, worst: string, count: number,
 *   finding: string, changed: string, unsaved: boolean, words: string}} Row
 */

/** The one way in which text becomes HTML: the program's own, escaped where it was made. */
const policy = /** @type {any} */ (window).trustedTypes?.createPolicy("seamwright", { createHTML: (/** @type {string} */ text) => text })
  ?? { createHTML: (/** @type {string} */ text) => text };

/** @param {string} html */
export const parsed = html => new DOMParser().parseFromString(policy.createHTML(html), "text/html");

/** @template {Element} [T=HTMLElement] @param {string} selector @param {ParentNode} [within] @returns {T} */
export function one(selector, within = document) {
  const found = within.querySelector(selector);
  if (!found) throw new Error(`${selector} is missing`);
  return /** @type {T} */ (found);
}

/** @template {Element} [T=HTMLElement] @param {string} selector @param {ParentNode} [within] @returns {T[]} */
export const all = (selector, within = document) => /** @type {T[]} */ ([...within.querySelectorAll(selector)]);

/**
 * @param {string} tag @param {Record<string, any>} [properties] @param {...(Node | string | null | undefined)} children
 * @returns {any}
 */
export function make(tag, properties = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(properties)) {
    if (name in element && !name.startsWith("aria")) /** @type {any} */ (element)[name] = value;
    else element.setAttribute(name, value);
  }
  for (const child of children) if (child !== null && child !== undefined) element.append(child);
  return element;
}

let token = one("meta[name=token]").getAttribute("content") ?? "";

/** An answer that refuses, in words. */
export class Refusal extends Error {
  /** @param {number} status @param {string} words @param {string | undefined} now */
  constructor(status, words, now) {
    super(words);
    this.status = status;
    this.now = now;
  }
}

/**
 * Looks whether the program was started again: whoever was let in to it meanwhile goes on with its new token.
 * @returns {Promise<"same" | "new" | "not let in">}
 */
async function letIn() {
  const answer = await fetch("/blank");
  if (answer.status === 403) return "not let in";
  const fresh = parsed(await (await fetch(location.pathname + location.search)).text()).querySelector("meta[name=token]")?.getAttribute("content");
  if (!fresh || fresh === token) return "same";
  token = fresh;
  return "new";
}

/** @param {string} path @param {any} [body] @param {Record<string, string>} [headers] @returns {Promise<any>} */
export async function ask(path, body, headers = {}) {
  const send = () => fetch(path, body === undefined ? {} : {
    method: "POST",
    headers: { "x-seamwright-token": token, ...headers },
    body: body instanceof Blob ? body : JSON.stringify(body),
  });
  let answer;
  try {
    answer = await send();
    const now = answer.status === 403 ? await letIn() : "same";
    if (now === "new") answer = await send();
    if (now === "not let in") throw new Refusal(401, "The program was started again. Open the address that it printed: this page then goes on by itself.", undefined);
  } catch (error) {
    if (error instanceof Refusal) throw error;
    throw new Refusal(0, "The program does not answer: is it still running? What you typed is still on this page.", undefined);
  }
  const text = await answer.text();
  let value;
  try { value = JSON.parse(text); } catch { value = { error: text.trim() }; }
  if (!answer.ok) throw new Refusal(answer.status, value.error ?? "refused", value.now);
  return value;
}

/** A library that not every page needs. @param {"idiomorph" | "editor"} name @returns {Promise<any>} */
export const load = name => import(`/static/${name}.js`);

/** Says something at the edge of the page; gives the line. @param {string} words @param {boolean} [stays] @returns {HTMLElement} */
export function say(words, stays = false) {
  const status = one("#status");
  // It may stand over what is needed next: a click puts it away.
  const line = make("p", { title: "click to put away" }, words);
  line.addEventListener("click", () => line.remove());
  status.replaceChildren(line);
  if (!stays) setTimeout(() => { if (line.isConnected) line.remove(); }, 6000);
  return line;
}

/** @param {unknown} error */
export const tell = error => { say(error instanceof Error ? error.message : String(error), true); };

/** @template T @returns {T} */
export const given = () => JSON.parse(one("#data").textContent ?? "null");

/**
 * Hears of what changes, as long as the page is seen: a browser holds few connections to one program.
 * @param {(event: any) => void} hear
 */
export function listen(hear) {
  /** @type {EventSource | null} */
  let events = null;
  let lost = false;
  let again = 0;
  /** @type {HTMLElement | null} */
  let told = null;
  const start = () => {
    events = new EventSource("/events");
    events.onmessage = message => hear(JSON.parse(message.data));
    events.onerror = () => {
      if (!lost) told = say("The program does not answer. Start it again: once the address that it prints is open in this browser, this page goes on by itself.", true);
      lost = true;
      // A program that was started again does not let this page in before its address was opened.
      if (events?.readyState === EventSource.CLOSED) { stop(); again = setTimeout(start, 3000); }
    };
    events.onopen = () => {
      if (lost) { lost = false; told?.remove(); hear({ what: "missed" }); }
    };
  };
  const stop = () => { clearTimeout(again); events?.close(); events = null; };
  start();
  document.addEventListener("visibilitychange", () => {
    if (document.hidden) stop();
    else if (!events) { start(); hear({ what: "missed" }); }
  });
  window.addEventListener("pagehide", stop);
}

// ---------------------------------------------------------------------------------------------------------------- folder

/** Words and numbers, each whole: "2 mm" is not "12 mm". @param {string} text */
const words = text => text.toLowerCase().replace(/(\d),(\d)/g, "$1.$2").replace(/(\d)(mm|in|inch)\b/g, "$1 $2").replaceAll("aluminum", "aluminium").split(/[^\p{L}\p{N}.+/-]+/u).filter(Boolean);

/** @param {Row} row @param {string} search */
function matches(row, search) {
  const own = words([row.number, row.revision && `rev ${row.revision}`, row.title, row.file, row.words, row.status, row.kind,
    ...row.processes, ...row.metals, ...row.thicknesses, ...row.positions].join(" "));
  // What has hyphens is found by each of its parts: stainless in austenitic-stainless.
  own.push(...own.filter(word => /^\p{L}+(-\p{L}+)+$/u.test(word)).flatMap(word => word.split("-")));
  return words(search).every(wanted => own.some(word => /^[\d.]+$/.test(wanted) ? word === wanted : word.startsWith(wanted)));
}

const MARKS = /** @type {Record<string, string>} */ ({ error: "error", caution: "caution", note: "note", clean: "clean", unreadable: "cannot be read" });

function folderScreen() {
  /** @type {Row[]} */
  let rows = given();
  const search = one("#search");
  /** What was looked for and ticked when this page was left: back leads to it. @type {{search?: string, filters?: Record<string, string>, ticked?: string[]}} */
  const before = history.state ?? {};
  /** @type {Set<string>} */
  const ticked = new Set(before.ticked ?? []);
  const link = one("#print-ticked");
  const filled = () => all("[data-filter]").map(select => /** @type {HTMLSelectElement} */ (select));
  const remember = () => history.replaceState({ search: /** @type {any} */ (search).value, ticked: [...ticked],
    filters: Object.fromEntries(filled().map(filter => [filter.dataset.filter, filter.value])) }, "");
  const linked = () => {
    link.setAttribute("href", ticked.size ? `/print?ids=${[...ticked].join(",")}` : "/print");
    link.textContent = ticked.size ? `Print ${ticked.size} ticked` : "Print";
  };
  /** @param {Row} row */
  const line = row => {
    const tick = make("input", { type: "checkbox", checked: ticked.has(row.id), "aria-label": `Tick ${row.number || row.file}` });
    tick.addEventListener("change", () => {
      if (tick.checked) ticked.add(row.id); else ticked.delete(row.id);
      linked();
      remember();
    });
    const found = make("span", { className: `mark-${row.worst}`, title: row.finding },
      row.count > 1 ? `${row.count} ${MARKS[row.worst]}s` : MARKS[row.worst] ?? row.worst);
    /** @param {string} label @param {string} text @param {string} [name] */
    const cell = (label, text, name = "") => make("td", { "data-label": label, className: name, hidden: false }, text);
    return make("tr", {},
      make("td", { className: "tick" }, row.kind === "procedure" || row.kind === "lesson" ? tick : ""),
      make("th", { scope: "row", className: "nowrap" }, make("a", { href: `/d/${row.id}` }, row.number || row.file), row.revision ? ` rev ${row.revision}` : ""),
      make("td", { className: "title" }, row.title, row.kind && row.kind !== "procedure" ? make("span", { className: "quiet" }, ` ${row.kind.replace("-", " ")}`) : null, row.unsaved ? make("strong", {}, " not saved") : null),
      cell("Process", row.processes.join(", ")), cell("Metal", row.metals.join(", ")), cell("Thickness", row.thicknesses.join(", ")),
      cell("Position", row.positions.join(", ")), cell("State", row.status),
      make("td", { "data-label": "Found" }, found),
      cell("Changed", row.changed, "nowrap"));
  };
  const show = () => {
    const filters = filled();
    const shown = rows.filter(row => matches(row, /** @type {any} */ (search).value) && filters.every(filter => {
      const value = /** @type {any} */ (row)[filter.dataset.filter ?? ""];
      return !filter.value || (Array.isArray(value) ? value.includes(filter.value) : value === filter.value);
    }));
    one("#rows tbody").replaceChildren(...shown.map(line));
    one("#count").textContent = rows.length === 0 ? "This folder has no documents yet. Begin with New."
      : shown.length === rows.length ? `${rows.length} document${rows.length === 1 ? "" : "s"}` : `${shown.length} of ${rows.length} documents`;
  };
  const choices = () => {
    for (const filter of filled()) {
      const values = [...new Set(rows.flatMap(row => /** @type {any} */ (row)[filter.dataset.filter ?? ""]).filter(Boolean))].sort();
      const before = filter.value;
      filter.replaceChildren(make("option", { value: "" }, "all"), ...values.map(value => make("option", { value }, MARKS[value] ?? value)));
      filter.value = before;
    }
  };
  choices();
  /** @type {any} */ (search).value = before.search ?? /** @type {any} */ (search).value;
  for (const filter of filled()) filter.value = before.filters?.[filter.dataset.filter ?? ""] ?? filter.value;
  for (const id of [...ticked]) if (!rows.some(row => row.id === id)) ticked.delete(id);
  linked();
  show();
  one("#filters").addEventListener("input", () => { show(); remember(); });
  one("#filters").addEventListener("submit", event => event.preventDefault());
  one("#filters").addEventListener("reset", () => setTimeout(() => { show(); remember(); }));
  document.addEventListener("keydown", event => {
    if (event.key === "/" && !/^(INPUT|SELECT|TEXTAREA)$/.test(/** @type {any} */ (event.target).tagName)) {
      event.preventDefault();
      search.focus();
    }
  });
  let waiting = 0;
  listen(() => {
    clearTimeout(waiting);
    waiting = setTimeout(() => ask("/rows").then(fresh => { rows = fresh; choices(); show(); }).catch(tell), 150);
  });
  dropping();
}

function dropping() {
  const place = one("#drop");
  const file = /** @type {HTMLInputElement} */ (one("#file"));
  /** @param {File | undefined} chosen */
  const take = async chosen => {
    if (!chosen) return;
    if (chosen.size > 16 * 1024 * 1024) return say(`${chosen.name} has more than 16 MiB: it is no sheet and no document.`, true);
    say(`${chosen.name} is looked at …`);
    try {
      const { number } = await ask("/arrived", chosen, { "x-file-name": encodeURIComponent(chosen.name) });
      location.assign(`/arrived/${number}`);
    } catch (error) { tell(error); }
  };
  file.addEventListener("change", () => take(file.files?.[0]));
  one("#choose").addEventListener("click", () => file.click());
  for (const name of ["dragover", "dragleave", "drop"]) {
    document.addEventListener(name, event => {
      event.preventDefault();
      place.classList.toggle("over", name === "dragover");
      if (name === "drop") take(/** @type {DragEvent} */ (event).dataTransfer?.files[0]);
    });
  }
}

// ------------------------------------------------------------------------------------------------------- parts of screens

/**
 * A finding in words, with what can be done.
 * @param {Found} found @param {{fix?: (found: Found) => void, accept?: (found: Found) => void, takeBack?: (found: Found) => void}} does
 */
export function finding(found, does) {
  const why = [found.limit && `Limit: ${found.limit}`, found.source && `Source: ${found.source}`, `Check: ${found.check}`].filter(Boolean).join(". ");
  const actions = make("p", { className: "actions" });
  if (found.fix && does.fix) {
    const value = typeof found.fix.value === "object" ? JSON.stringify(found.fix.value).replace(/[{}"[\]]/g, "") : String(found.fix.value);
    const take = make("button", { type: "button", className: "small" }, found.fix.pointer === found.pointer ? `Take ${value}` : `Take ${found.fix.pointer.split("/").pop()?.replaceAll("_", " ")}: ${value}`);
    take.addEventListener("click", () => does.fix?.(found));
    actions.append(take);
  }
  if (does.takeBack) {
    const back = make("button", { type: "button", className: "small" }, "Take back what was typed");
    back.addEventListener("click", () => does.takeBack?.(found));
    actions.append(back);
  }
  if (does.accept && found.check !== "job") {
    const accept = make("button", { type: "button", className: "small" }, "Accept, because …");
    accept.addEventListener("click", () => does.accept?.(found));
    actions.append(accept);
  }
  return make("div", { className: `finding ${found.severity}` },
    make("p", {}, make("b", {}, found.severity), ` ${found.message}`),
    found.hint ? make("p", {}, found.hint.replaceAll("`", "")) : null,
    found.check ? make("details", {}, make("summary", {}, "Why"), make("p", {}, why)) : null,
    actions.childElementCount ? actions : null);
}

/** Renews a frame's page in place. @param {HTMLIFrameElement} frame @param {string} html */
export async function renew(frame, html) {
  // The first page of a frame has the policy of this page, which would take the styles out: wait for its own.
  if (frame.contentDocument?.URL === "about:blank") await new Promise(done => frame.addEventListener("load", done, { once: true }));
  const inside = frame.contentWindow;
  if (!inside || !frame.contentDocument) return;
  const { Idiomorph } = await load("idiomorph");
  // The frame's own reader keeps the styles of the sheet, which the page's policy would take out.
  const fresh = new /** @type {any} */ (inside).DOMParser().parseFromString(html, "text/html");
  // The head is not morphed: one meta element turned into another would be read as a policy on the way.
  const styles = (/** @type {Document} */ own) => all("head style", own);
  const told = (/** @type {Document} */ own) => styles(own).map(style => style.textContent).join("");
  if (told(frame.contentDocument) !== told(fresh)) {
    for (const style of styles(frame.contentDocument)) style.remove();
    frame.contentDocument.head.append(...styles(fresh));
  }
  Idiomorph.morph(frame.contentDocument.body, fresh.body);
}

/** Lists of names that the document gives itself: they change with it. */
const OWN = ["own-fillers", "conditions"];

/** What can be picked, asked for once, or each time where it changes. @param {HTMLInputElement} input @param {string} [id] */
export async function offer(input, id) {
  const list = input.dataset.list;
  if (!list || input.hasAttribute("list") && !OWN.includes(list)) return;
  const name = `choices-${list}`;
  const known = document.getElementById(name);
  if (!known || OWN.includes(list)) {
    const holder = known ?? make("datalist", { id: name });
    document.body.append(holder);
    try {
      const choices = await ask(`/choices/${list}${id ? `?for=${id}` : ""}`);
      holder.replaceChildren(...choices.map((/** @type {{value: string, label: string}} */ own) => make("option", { value: own.value }, own.label)));
    } catch (error) { holder.remove(); return; }
  }
  input.setAttribute("list", name);
}

// ------------------------------------------------------------------------------------------------------------------- new

function newScreen() {
  const form = /** @type {HTMLFormElement} */ (one("#facts"));
  const frame = /** @type {HTMLIFrameElement} */ (one("#sheet"));
  const copy = given();
  let timer = 0;
  let count = 0;
  let text = "";
  let named = false;
  let suggested = /** @type {HTMLInputElement} */ (one("#name")).defaultValue;
  const facts = () => {
    const values = Object.fromEntries(new FormData(form));
    return { ...values, in_shop: "in_shop" in values };
  };
  const begin = () => /** @type {string} */ (new FormData(form).get("from"));
  /** Keeps the facts with this page of the browser's history: back leads to them. */
  const remember = () => history.replaceState({ facts: facts(), name: named ? /** @type {HTMLInputElement} */ (one("#name")).value : null }, "");
  /** Puts back the facts with which this page was left. */
  const again = () => {
    /** @type {{facts?: Record<string, string | boolean>, name?: string | null}} */
    const before = history.state ?? {};
    if (!before.facts) return;
    for (const field of all("[name]", form).map(own => /** @type {HTMLInputElement} */ (own))) {
      const value = before.facts[field.name];
      if (field.type === "radio") field.checked = value === field.value;
      else if (field.type === "checkbox") field.checked = value === true;
      else if (typeof value === "string") field.value = value;
    }
    named = typeof before.name === "string";
    if (named) /** @type {HTMLInputElement} */ (one("#name")).value = before.name ?? "";
  };
  const show = () => {
    for (const part of all("[data-from]")) part.hidden = !(part.dataset.from ?? "").split(" ").includes(begin());
    const groove = new FormData(form).get("joint") === "butt";
    for (const own of all("input[name=position]").map(input => /** @type {HTMLInputElement} */ (input))) {
      own.disabled = groove ? own.dataset.groove !== "true" : own.dataset.fillet !== "true";
    }
    const chosen = /** @type {HTMLInputElement | null} */ (document.querySelector("input[name=position]:checked"));
    if (chosen?.disabled) {
      const first = /** @type {HTMLInputElement | null} */ (document.querySelector(`input[name=position][value=${groove ? "PA" : "PB"}]`));
      if (first) first.checked = true;
    }
  };
  const draft = async () => {
    const own = ++count;
    try {
      const answer = await ask("/new/draft", facts());
      if (own !== count) return;
      text = answer.text;
      one("#refused").textContent = answer.refused ?? "";
      one("#refused").hidden = !answer.refused;
      one("#draft-verdict").textContent = answer.verdict;
      one("#draft-findings").replaceChildren(...answer.findings.map((/** @type {Found} */ found) => finding(found, {})));
      one("#origins tbody").replaceChildren(...answer.origins.map((/** @type {[string, string]} */ pair) => make("tr", {}, make("td", {}, pair[0]), make("td", {}, pair[1]))));
      one("#origins").hidden = answer.origins.length === 0;
      const name = /** @type {HTMLInputElement} */ (one("#name"));
      // A name that was typed before this was ready is a name that was typed.
      if (!named && (name.value === "" || name.value === suggested)) name.value = suggested = answer.name;
      /** @type {HTMLButtonElement} */ (one("#keep")).disabled = !text;
      await renew(frame, answer.sheet);
    } catch (error) {
      // What was drafted before is not of these facts.
      if (own === count) text = "";
      tell(error);
    }
  };
  form.addEventListener("input", event => {
    if (/** @type {HTMLElement} */ (event.target).id === "name") { named = true; remember(); return; }
    show();
    remember();
    clearTimeout(timer);
    timer = setTimeout(draft, 150);
  });
  form.addEventListener("focusin", event => { if (event.target instanceof HTMLInputElement) offer(event.target); });
  for (const button of all("[data-put]")) {
    button.addEventListener("click", () => {
      const field = /** @type {HTMLInputElement} */ (one(button.dataset.into ?? ""));
      field.value = button.dataset.put ?? "";
      field.dispatchEvent(new Event("input", { bubbles: true }));
    });
  }
  form.addEventListener("submit", async event => {
    event.preventDefault();
    clearTimeout(timer);
    await draft();
    if (!text) return;
    try {
      const { id } = await ask("/new/keep", { name: /** @type {HTMLInputElement} */ (one("#name")).value, text, copy: begin() === "copy" ? String(new FormData(form).get("copy") ?? "") : "" });
      location.assign(`/d/${id}`);
    } catch (error) { tell(error); }
  });
  if (copy) {
    /** @type {HTMLInputElement} */ (one("input[name=from][value=copy]")).checked = true;
    /** @type {HTMLSelectElement} */ (one("select[name=copy]")).value = copy;
  }
  again();
  show();
  draft();
}

// --------------------------------------------------------------------------------------------------------------- arrived

function arrivedScreen() {
  /** @type {Live} */
  const live = given();
  const number = one("#arrived").dataset.number;
  const frame = /** @type {HTMLIFrameElement | null} */ (document.querySelector("#sheet"));
  const form = /** @type {HTMLFormElement | null} */ (document.querySelector("#review"));
  if (!form || !frame) return;
  one("#replies").replaceChildren(...live.findings.map((found, index) => {
    const choices = ["to be corrected", "to be explained", "accepted as it is", "not relevant here"];
    const start = found.severity === "note" ? "accepted as it is" : "to be corrected";
    const shown = finding(found, {});
    if (found.place) shown.prepend(make("p", { className: "quiet" }, found.place));
    shown.append(make("div", { className: "fields" },
      make("label", {}, `Disposition of finding ${index + 1}`, make("select", { "data-of": index }, ...choices.map(own => make("option", { selected: own === start }, own)))),
      make("label", {}, `Reply to finding ${index + 1}`, make("input", { "data-reply": index }))));
    return make("li", {}, shown);
  }));
  one("#no-findings").hidden = live.findings.length > 0;
  const written = async () => {
    const values = Object.fromEntries(new FormData(form));
    return ask(`/arrived/${number}/review`, {
      ...values,
      replies: live.findings.map((found, index) => ({
        check: found.check, pointer: found.pointer,
        disposition: /** @type {HTMLSelectElement} */ (one(`[data-of="${index}"]`)).value,
        reply: /** @type {HTMLInputElement} */ (one(`[data-reply="${index}"]`)).value,
      })),
    });
  };
  form.addEventListener("submit", async event => {
    event.preventDefault();
    try {
      const review = await written();
      if (/** @type {any} */ (event).submitter?.id === "print-review") {
        await renew(frame, review.page);
        one("#review-shown").hidden = false;
        frame.contentWindow?.focus();
        frame.contentWindow?.print();
        say("The review stands beside this; the browser prints it.");
      } else {
        const link = make("a", { href: URL.createObjectURL(new Blob([review.page], { type: "text/html" })), download: review.name });
        link.click();
        say(`${review.name} is saved where the browser saves files.`);
      }
    } catch (error) { tell(error); }
  });
  document.querySelector("#keep-arrived")?.addEventListener("submit", async event => {
    event.preventDefault();
    try {
      const { id } = await ask(`/arrived/${number}/keep`, { name: /** @type {HTMLInputElement} */ (one("#keep-name")).value });
      location.assign(`/d/${id}`);
    } catch (error) { tell(error); }
  });
  for (const button of all("[data-kind]")) button.addEventListener("click", () => { frame.src = `/arrived/${number}/frame?kind=${button.dataset.kind}`; });
}

// ----------------------------------------------------------------------------------------------------------------- print

function printScreen() {
  const form = /** @type {HTMLFormElement} */ (one("#print"));
  const all_ = /** @type {HTMLInputElement} */ (one("#tick-all"));
  all_.addEventListener("change", () => { for (const tick of all("input[name=id]")) /** @type {HTMLInputElement} */ (tick).checked = all_.checked; });
  form.addEventListener("submit", event => {
    if (new FormData(form).getAll("id").length === 0) {
      event.preventDefault();
      say("Tick the documents that are to be printed.");
    }
  });
}

// ------------------------------------------------------------------------------------------------------------------- job

function jobScreen() {
  const list = /** @type {HTMLTextAreaElement} */ (one("#joints"));
  const keep = /** @type {HTMLFormElement | null} */ (document.querySelector("#keep-job"));
  const plan = () => ask("/job/plan", { text: list.value, ...Object.fromEntries(keep ? new FormData(keep) : []) });
  one("#job").addEventListener("submit", async event => {
    event.preventDefault();
    try {
      const made = await plan();
      one("#status").replaceChildren();
      one("#plan").hidden = false;
      one("#plan-trouble").replaceChildren(...made.trouble.map((/** @type {string} */ own) => make("p", { className: "notice" }, own)));
      one("#plan tbody").replaceChildren(...made.lines.map((/** @type {any} */ line) => make("tr", {},
        make("th", { scope: "row" }, line.joint, make("span", { className: "quiet" }, ` ${line.asked}`)),
        make("td", {},
          line.procedure ? make("a", { href: `/d/${line.procedure[0]}` }, line.procedure[1]) : null,
          !line.procedure ? make("a", { href: "/new" }, "Write one") : null,
          ...line.against.map((/** @type {[string, string]} */ own) => make("p", {}, make("span", { className: `mark-${own[0]}` }, own[0]), ` ${own[1]}`))),
        make("td", {}, line.machine), make("td", { className: "nowrap" }, line.hours), make("td", { className: "nowrap" }, line.price))));
      one("#total").textContent = made.total;
      one("#missing").textContent = made.missing && `Not in the price: ${made.missing}`;
      one("#buy").replaceChildren(...made.buy.map((/** @type {[string, string]} */ own) => make("div", {}, make("dt", {}, own[0]), make("dd", {}, own[1]))));
      one("#plan-title").focus();
    } catch (error) {
      // What was planned before is not of this list.
      one("#plan").hidden = true;
      tell(error);
    }
  });
  keep?.addEventListener("submit", async event => {
    event.preventDefault();
    try {
      const { text } = await plan();
      const name = String(new FormData(keep).get("number")).trim().toLowerCase().replace(/[^\p{L}\p{N}]+/gu, "-");
      const { id } = await ask("/new/keep", { name, text });
      location.assign(`/d/${id}`);
    } catch (error) { tell(error); }
  });
}

// ------------------------------------------------------------------------------------------------------ change and shop

function changeScreen() {
  const form = /** @type {HTMLFormElement | null} */ (document.querySelector("#change"));
  form?.addEventListener("submit", async event => {
    event.preventDefault();
    try {
      const both = await ask(`/d/${form.dataset.id}/change`, Object.fromEntries(new FormData(form)));
      location.assign(`/compare?old=${both.old}&new=${both.new}`);
    } catch (error) { tell(error); }
  });
}

function shopScreen() {
  const form = /** @type {HTMLFormElement | null} */ (document.querySelector("#begin-shop"));
  form?.addEventListener("submit", async event => {
    event.preventDefault();
    const value = (/** @type {string} */ name) => JSON.stringify(String(new FormData(form).get(name) ?? "").trim());
    const processes = String(new FormData(form).get("processes") ?? "").split(/[,;]/).map(own => own.trim()).filter(Boolean);
    const currency = value("currency") === '""' ? "" : `rates:\n  currency: ${value("currency")}\n`;
    const text = `format: 1\ndocument: shop\nidentification: {number: S-1, revision: 1, title: ${value("title")}}\n`
      + `power_sources:\n  - {name: ${value("machine")}, processes: ${JSON.stringify(processes)}}\n${currency}`;
    try {
      const { id } = await ask("/new/keep", { name: "shop", text });
      location.assign(`/d/${id}`);
    } catch (error) { tell(error); }
  });
}

// A menu is closed by Escape, and by a click elsewhere.
const menus = () => all("details.menu[open]").map(menu => /** @type {HTMLDetailsElement} */ (menu));
document.addEventListener("keydown", event => {
  if (event.key !== "Escape") return;
  for (const menu of menus()) { menu.open = false; one("summary", menu).focus(); }
});
document.addEventListener("click", event => { for (const menu of menus()) if (!menu.contains(/** @type {Node} */ (event.target)) || /** @type {Element} */ (event.target).closest(".menu button")) menu.open = false; });

const screens = /** @type {Record<string, () => unknown>} */ ({ folder: folderScreen, document: () => import("./document.js").then(own => own.documentScreen()).catch(tell), new: newScreen, arrived: arrivedScreen, print: printScreen, job: jobScreen, change: changeScreen, shop: shopScreen });
screens[document.body.dataset.screen ?? ""]?.();
