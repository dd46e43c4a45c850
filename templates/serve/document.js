// The page of a document in the browser: fields filled, entries moved, what was found beside them, and nothing lost of what was
// typed. No rule and no limit stands here.
// @ts-check

import { all, ask, finding, given, listen, load, make, offer, one, parsed, Refusal, renew, say, tell } from "./page.js";

/**
 * @typedef {import("./page.js").Found} Found
 * @typedef {import("./page.js").Live} Live
 * @typedef {import("./page.js").Doc} Doc
 * @typedef {import("./page.js").Edited} Edited
 * @typedef {import("./page.js").Moved} Moved
 * @typedef {import("./page.js").Step} Step
 */

/** The field of a place, where the page shows it. @param {string} pointer @returns {any} */
const fieldOf = pointer => document.querySelector(`[data-p="${CSS.escape(pointer)}"]`);

/** Where a place is once entries moved; nothing where its entry went out. @param {string} pointer @param {Moved[]} moves @returns {string | null} */
function placeAfter(pointer, moves) {
  for (const { list, from, to } of moves) {
    const inside = pointer.startsWith(`${list}/`) ? pointer.slice(list.length + 1).match(/^(\d+)([^]*)$/) : null;
    if (!inside) continue;
    let index = Number(inside[1]);
    if (index === from) {
      if (to === null) return null;
      index = to;
    } else {
      if (from !== null && index > from) index -= 1;
      if (to !== null && index >= to) index += 1;
    }
    pointer = `${list}/${index}${inside[2]}`;
  }
  return pointer;
}

/** The element of a place, or of the nearest section around it. @param {string} pointer @returns {HTMLElement | null} */
function placeOf(pointer) {
  for (let at = pointer; at; at = at.slice(0, at.lastIndexOf("/"))) {
    const found = document.querySelector(`[data-field="${CSS.escape(at)}"], [data-row-found="${CSS.escape(at)}"], [data-found="${CSS.escape(at)}"]`);
    if (found) return /** @type {HTMLElement} */ (found);
  }
  return null;
}

/** Goes to a place and opens what folds it. @param {string} pointer */
function goTo(pointer) {
  const place = placeOf(pointer);
  for (let at = place?.parentElement; at; at = at.parentElement) if (at instanceof HTMLDetailsElement) at.open = true;
  // What stands below a row comes when it is opened.
  const more = place?.dataset.rowFound !== pointer ? place?.parentElement?.querySelector("[data-more]") : null;
  if (more instanceof HTMLDetailsElement && !more.open) {
    more.addEventListener("shown", () => { if (placeOf(pointer) !== place) goTo(pointer); }, { once: true });
    more.open = true;
  }
  const field = place?.querySelector("input, select, textarea") ?? place?.closest("section")?.querySelector("input, select, textarea, button");
  place?.scrollIntoView({ block: "center" });
  /** @type {HTMLElement | null | undefined} */ (field)?.focus({ preventScroll: true });
}

/** What a sheet is called: by its kind, unless it has a name of its own. @param {string} kind */
function called(kind) {
  /** @type {Record<string, string>} */
  const own = { procedure: "Procedure sheet", office: "For the office", text: "Text of the file" };
  return own[kind] ?? kind.charAt(0).toUpperCase() + kind.slice(1).replaceAll("-", " ");
}

/** The page of a document. */
export function documentScreen() {
  /** @type {Doc} */
  const doc = given();
  const readOnly = "readOnly" in document.body.dataset;
  const form = one("#form");
  const frame = /** @type {HTMLIFrameElement} */ (one("#sheet"));
  const page = crypto.getRandomValues(new Uint32Array(1))[0]?.toString(36) ?? "";
  let { base, live, text, unsaved } = doc;
  /** The parts of the form that are shown, with their shapes. */
  let shape = doc.shape;
  let count = 0;
  /** What was typed and is not sent yet. @type {Map<string, string>} */
  const pending = new Map();
  /** What is sent and not answered yet. @type {Map<string, string>} */
  const sent = new Map();
  /** A text that was typed and is not answered yet. @type {string | null} */
  let unsentText = null;
  /** What stood before each change of this page, the last one at the end. @type {Step[]} */
  const past = [];
  /** Changes that wait for the answers to those before them. @type {{ops: any[], undone?: Step}[]} */
  const queue = [];
  /** Whether what was typed could not be sent. */
  let failed = false;
  /** What was typed and is not understood. @type {Map<string, {message: string, hint: string | null, typed: string}>} */
  const notTaken = new Map();
  let timer = 0;
  /** How many changes are sent and not answered yet. */
  let sending = 0;
  /** How many rows are opened and what stands below them has not come yet. */
  let opening = 0;
  /** @type {Promise<void>} */
  let last = Promise.resolve();
  /** @type {any} */
  let editor = null;
  let tab = "";
  /** The kinds of sheet that it had when it could be read. */
  let sheets = live.sheets;

  const query = () => {
    const value = (/** @type {string} */ id) => /** @type {HTMLSelectElement} */ (one(id)).value;
    // Left empty, it is the length that the document states.
    const stated = /** @type {HTMLInputElement | null} */ (document.querySelector('[data-p="/weld_size/length"]'))?.value;
    const typed = value("#length").trim() || (stated ? "" : "1 m");
    const length = tab === "estimate" && typed ? `&length=${encodeURIComponent(typed)}` : "";
    return `kind=${tab}&units=${value("#units")}&terms=${value("#terms")}&paper=${value("#paper")}${length}`;
  };

  /** Whether something is with this page alone: it is not sent, or not answered yet. */
  const here = () => pending.size > 0 || sending > 0 || unsentText !== null;

  /** Whether there is something to save, or may be. */
  const open = () => unsaved || here();

  /** Where this browser keeps what the program does not have yet, should it be gone when the page is. */
  const shelf = `typed ${one(".place").title} ${doc.id}`;
  /** What was kept there by an earlier page, until it is decided on. @type {{of: string, typed: Record<string, string>, text: string | null} | null} */
  let kept = null;
  let shelved = false;

  /** Keeps in this browser what the program does not have yet. */
  const keep = () => {
    const typed = { ...kept?.typed, ...Object.fromEntries(sent), ...Object.fromEntries(pending) };
    const own = unsentText ?? kept?.text ?? null;
    try {
      if (sent.size > 0 || pending.size > 0 || unsentText !== null) {
        localStorage.setItem(shelf, JSON.stringify({ of: kept?.of ?? live.digest, typed, text: own }));
        shelved = true;
      } else if (shelved && !kept) {
        localStorage.removeItem(shelf);
        shelved = false;
      }
    } catch { /* A browser that keeps nothing still asks before the page is left. */ }
  };

  const state = () => {
    const saved = one("#saved");
    const waiting = notTaken.size;
    saved.textContent = readOnly ? "open for reading only" : failed ? "not sent: the program does not answer; this page tries again" : waiting ? `${waiting} field${waiting === 1 ? " is" : "s are"} not understood yet and not in the file`
      : open() ? "not saved" : "saved";
    /** @type {HTMLButtonElement} */ (one("#save")).disabled = readOnly || !open();
    /** @type {HTMLButtonElement} */ (one("#undo")).disabled = readOnly || past.length === 0;
    /** @type {HTMLButtonElement} */ (one("#discard")).disabled = readOnly || !open() && !waiting;
    // Whoever drives the page waits for this: all that was typed is answered.
    document.body.toggleAttribute("data-busy", here() || opening > 0);
    keep();
    document.title = `${open() ? "• " : ""}${doc.number || doc.file} – Seamwright`;
    one("#number").textContent = doc.number;
    one("#title").textContent = doc.title;
  };

  const does = readOnly ? {} : {
    fix: (/** @type {Found} */ found) => { if (found.fix) change([{ op: "put", at: found.fix.pointer, value: found.fix.value }]); },
    accept,
  };

  /** Shows what was found, at the fields. */
  const show = () => {
    for (const old of all(".found")) old.replaceChildren();
    for (const old of all("[aria-invalid]")) old.removeAttribute("aria-invalid");
    for (const old of all(".tally")) old.textContent = "";
    one("#elsewhere").replaceChildren();
    one("#trouble").replaceChildren(...live.trouble.map(words => make("p", { className: "notice" }, words)));
    one("#verdict").textContent = live.verdict;
    /** @type {Record<string, number>} */
    const tally = {};
    /** @param {Found} found @param {Parameters<typeof finding>[1]} own */
    const put = (found, own) => {
      const shown = finding(found, own);
      const place = placeOf(found.pointer);
      const holder = place?.classList.contains("found") ? place
        : place?.closest("tr[data-row]") ? document.querySelector(`[data-row-found="${CSS.escape(/** @type {HTMLElement} */ (place.closest("tr[data-row]")).dataset.row ?? "")}"]`)
        : place?.querySelector(".found");
      (holder ?? one("#elsewhere")).append(shown);
      const field = place?.querySelector("input, select, textarea");
      if (field && found.severity !== "note") field.setAttribute("aria-invalid", "true");
      for (const around of [place?.closest("[data-section]"), place?.closest("[data-plate]")]) {
        if (!(around instanceof HTMLElement) || found.severity === "note") continue;
        const pointer = around.dataset.section ?? around.dataset.plate ?? "";
        tally[pointer] = (tally[pointer] ?? 0) + 1;
      }
    };
    for (const found of live.findings) put(found, does);
    // Nobody can accept what is missing or not understood: it has no check.
    const none = { severity: "error", check: "", place: "", limit: null, source: null, fix: null, reason: null };
    for (const fault of live.faults) put({ ...none, ...fault }, {});
    for (const [pointer, why] of notTaken) put({ ...none, message: `not understood: ${why.message}`, hint: why.hint, pointer }, { takeBack });
    for (const [section, number] of Object.entries(tally)) {
      const place = document.querySelector(`[data-tally="${CSS.escape(section)}"]`);
      if (place) place.textContent = `${number} to look at`;
    }
    one("#sections").replaceChildren(...all(".part").map(part => {
      const number = tally[part.dataset.section ?? ""];
      const heading = one("h2", part).firstChild?.textContent?.trim() ?? "";
      return make("li", {}, make("a", { href: `#${part.id}` }, heading), number ? ` (${number})` : "");
    }));
    for (const usual of all(".usual")) {
      const own = live.usual[usual.id.slice(1)];
      const means = live.means[usual.id.slice(1)];
      usual.textContent = means ? `that is ${means}` : own ? `usual ${own.limit}` : "";
      if (own) usual.title = live.sources[own.source] ?? ""; else usual.removeAttribute("title");
    }
    const list = one("#found-all ol");
    list.replaceChildren(...live.findings.map(found => {
      const link = make("a", { href: "#form" }, `${found.place}: ${found.message}`);
      link.addEventListener("click", (/** @type {Event} */ event) => { event.preventDefault(); goTo(found.pointer); });
      return make("li", {}, make("span", { className: `mark-${found.severity}` }, found.severity), " ", link);
    }), ...live.accepted.map(found => make("li", {}, make("span", { className: "mark-clean" }, "accepted"), ` ${found.message}. Because: ${found.reason ?? ""}`)));
    one("#found-all").hidden = live.findings.length + live.accepted.length === 0;
    one("#asks ol").replaceChildren(...live.asks.map(own => {
      const link = make("a", { href: "#form" }, own.line);
      link.addEventListener("click", (/** @type {Event} */ event) => { event.preventDefault(); goTo(own.pointer); });
      return make("li", {}, link, make("span", { className: "quiet" }, ` ${own.standard}`));
    }));
    one("#asks").hidden = live.asks.length === 0;
    one("#asks summary").textContent = `What the standard still asks for (${live.asks.length})`;
    for (const cell of all("[data-figure]")) {
      const index = Number(cell.dataset.of?.split("/").pop());
      const own = live.figures.find(figure => figure.index === index);
      cell.textContent = /** @type {any} */ (own)?.[cell.dataset.figure ?? ""] ?? "–";
    }
    document.querySelector("#totals")?.replaceChildren(
      ...live.totals.map(own => make("div", {}, make("dt", {}, own.name), make("dd", { title: own.how }, own.value, make("span", { className: "quiet" }, ` ${own.how}`)))),
      ...live.machines.map(own => make("div", {}, make("dt", {}, "In the shop"), make("dd", {}, own))));
    const cautions = one(".cautions ul");
    cautions.replaceChildren(...live.cautions.map(words => make("li", {}, words)));
    one(".cautions").hidden = live.cautions.length === 0;
    tabs();
    state();
    if (readOnly) for (const field of all("#form input, #form select, #form textarea, #form button")) /** @type {any} */ (field).disabled = true;
    editor?.marks(live.faults.map(fault => ({ from: fault.from, to: fault.to, severity: "error", message: fault.message })));
  };

  /** What somebody opened stays open, and what stands below a row is renewed by itself. */
  const callbacks = {
    beforeAttributeUpdated: (/** @type {string} */ name) => name !== "open",
    beforeNodeMorphed: (/** @type {Element} */ old) => !old.classList?.contains("below"),
  };

  /** What was typed and is not in the text goes into its field again. */
  const typedAgain = () => {
    /** @type {[string, string][]} */
    const refused = [...notTaken].map(([pointer, { typed }]) => [pointer, typed]);
    for (const [pointer, typed] of [...refused, ...sent, ...pending]) {
      const field = /** @type {HTMLInputElement} */ (fieldOf(pointer));
      if (field && field.value !== typed) field.value = typed;
    }
  };

  /** What can be folded, by what stands in it. */
  const folds = () => all("details:is([data-more], [data-plate], [data-fold])", form).map(own => /** @type {HTMLDetailsElement} */ (/** @type {any} */ (own)));
  const foldOf = (/** @type {HTMLElement} */ own) => own.dataset.more ?? own.dataset.plate ?? own.dataset.fold ?? "";

  /**
   * Renews the form while whoever works in it stays at the same field and the same place, and what was opened stays open.
   * @param {Moved[]} moves @param {(idiomorph: any) => void} renewed
   */
  const renewForm = async (moves, renewed) => {
    const { Idiomorph } = await load("idiomorph");
    const at = /** @type {HTMLInputElement | null} */ (form.contains(document.activeElement) ? document.activeElement : null);
    const caret = at?.selectionStart ?? null;
    const plates = new Set(all("[data-plate]", form).map(plate => placeAfter(plate.dataset.plate ?? "", moves)));
    const opened = new Set(folds().filter(own => own.open).map(own => placeAfter(foldOf(own), moves)));
    renewed(Idiomorph);
    if (moves.length) for (const own of folds()) {
      own.open = opened.has(foldOf(own));
      if (!own.dataset.more) continue;
      if (own.open) openBelow(own);
      else {
        // What stands below another row now comes when it is opened.
        one(".below", own).replaceChildren();
        shape = shape.split(" ").filter(part => !part.startsWith(`${own.dataset.more}=`)).join(" ");
      }
    }
    typedAgain();
    for (const plate of all("[data-plate]", form)) {
      if (plates.has(plate.dataset.plate ?? "")) continue;
      // One that was just added is filled at once.
      /** @type {HTMLDetailsElement} */ (/** @type {any} */ (plate)).open = true;
      /** @type {HTMLElement | null} */ (plate.querySelector("input, select, textarea"))?.focus();
    }
    // A field that went to another place is the same field.
    const place = at?.dataset.p && !at.isConnected ? placeAfter(at.dataset.p, moves) : null;
    const now = place ? fieldOf(place) : null;
    if (!at || !now) return;
    now.value = at.value;
    for (let around = now.parentElement; around; around = around.parentElement) if (around instanceof HTMLDetailsElement) around.open = true;
    now.focus({ preventScroll: true });
    if (caret !== null && "setSelectionRange" in now) now.setSelectionRange(caret, caret);
  };

  /** The whole form. @param {string} html */
  const renewWhole = (html, moves = /** @type {Moved[]} */ ([])) => renewForm(moves, Idiomorph => {
    const fresh = make("form", {});
    fresh.append(...parsed(html).body.childNodes);
    for (const below of all(".below", form)) below.replaceChildren();
    Idiomorph.morph(form, fresh, { morphStyle: "innerHTML", ignoreActiveValue: true, callbacks });
  });

  /** The parts of the form in which other fields stand. @param {[string, string][]} parts @param {Moved[]} moves */
  const renewParts = (parts, moves) => renewForm(moves, Idiomorph => {
    for (const [key, html] of parts) {
      const below = key.startsWith("/");
      const place = below ? document.querySelector(`[data-more="${CSS.escape(key)}"] .below`) : one(`#s-${key}`);
      if (!place) continue;
      if (below) Idiomorph.morph(place, parsed(`<div class="below">${html}</div>`).body.children[0], { morphStyle: "innerHTML", ignoreActiveValue: true, callbacks: { beforeAttributeUpdated: callbacks.beforeAttributeUpdated } });
      else {
        for (const own of all(".below", place)) own.replaceChildren();
        Idiomorph.morph(place, parsed(html).body.children[0], { morphStyle: "outerHTML", ignoreActiveValue: true, callbacks });
      }
    }
  });

  /** Brings what stands below a row when it is opened. @param {HTMLDetailsElement} more */
  const openBelow = async more => {
    const row = more.dataset.more ?? "";
    const place = one(".below", more);
    if (place.childElementCount > 0) return;
    opening += 1;
    state();
    try {
      // What was typed before is in the answer.
      await change([]);
      const below = await ask(`/d/${doc.id}/below?at=${encodeURIComponent(row)}`);
      if (more.dataset.more !== row || place.childElementCount > 0) return;
      place.append(...parsed(below.html).body.childNodes);
      shape = `${shape.split(" ").filter(part => !part.startsWith(`${row}=`)).join(" ")} ${row}=${below.shape}`;
      typedAgain();
      show();
      more.dispatchEvent(new Event("shown"));
    } catch (error) { tell(error); } finally { opening -= 1; state(); }
  };

  /** What the file states, and what holds where it states nothing. @type {[string, string][]} */
  let stated = [];
  /** @type {[string, string][]} */
  let inherited = [];

  /**
   * Puts what is stated into the fields, and nothing into the others; behind it stands what holds where nothing is stated.
   * @param {[string, string][]} values @param {[string, string][]} behindThem
   */
  const fill = (values, behindThem) => {
    [stated, inherited] = [values, behindThem];
    const own = new Map(values);
    const behind = new Map(behindThem);
    for (const field of all("[data-p]", form).map(own => /** @type {HTMLInputElement} */ (own))) {
      const pointer = field.dataset.p ?? "";
      if (pending.has(pointer) || notTaken.has(pointer) || field === document.activeElement && typing) continue;
      const value = own.get(pointer) ?? "";
      if (field.value !== value) field.value = value;
    }
    for (const field of all('input[data-p^="/runs/"], select[data-p^="/runs/"]', form)) {
      const hint = behind.get(field.dataset.p ?? "") ?? field.dataset.hint ?? "";
      if (field instanceof HTMLSelectElement) { const none = field.options[0]; if (none) none.text = hint && `${hint} (process)`; }
      else if (/** @type {HTMLInputElement} */ (field).placeholder !== hint) /** @type {HTMLInputElement} */ (field).placeholder = hint;
    }
    for (const name of all("[data-name-of]", form)) name.textContent = own.get(name.dataset.nameOf ?? "") ?? "";
    if (values.length) {
      doc.number = own.get("/identification/number") ?? "";
      doc.title = own.get("/identification/title") ?? "";
    }
  };

  // A document in inches is shown in inches, on the paper that goes with them.
  if (live.us) {
    /** @type {HTMLSelectElement} */ (one("#units")).value = "us";
    /** @type {HTMLSelectElement} */ (one("#paper")).value = "letter";
  }

  let typing = false;

  /** What was typed goes with its entry, and out with it. @param {Moved[]} moves @param {string[]} gone */
  function moved(moves, gone) {
    const now = (/** @type {string} */ at) => gone.some(own => at === own || at.startsWith(`${own}/`)) ? null : placeAfter(at, moves);
    for (const map of [/** @type {Map<string, any>} */ (pending), notTaken]) {
      const before = [...map];
      map.clear();
      for (const [at, value] of before) {
        const place = now(at);
        if (place !== null) map.set(place, value);
      }
    }
    // What stood in the text alone goes by its place.
    for (const own of queue) own.ops = own.ops.flatMap(op => { const at = op.at === undefined ? undefined : now(op.at); return at === null ? [] : [{ ...op, at }]; });
  }

  /** Takes the last change of this page back. */
  async function undo() {
    await change([]);
    const step = failed ? undefined : past.pop();
    if (!step) return;
    await change([{ op: "text", text: step.text }], step);
    if (text === step.text) say("Undone."); else past.push(step);
    state();
  }

  /** Sends what was typed, and changes after it, one after the other. @param {any[]} ops @param {Step} [undone] @returns {Promise<void>} */
  function change(ops, undone) {
    clearTimeout(timer);
    if (ops.length === 0 && pending.size === 0 && unsentText === null) return last;
    const own = { ops, undone };
    const refusal = document.querySelector("#status .refusal");
    queue.push(own);
    sending += 1;
    state();
    last = last.then(() => sendNow(own)).then(() => { failed = false; refusal?.remove(); }).catch(error => notSent(error, own.ops))
      .finally(() => { sending -= 1; state(); });
    return last;
  }

  /** What could not be sent is tried again; what was refused is told. @param {unknown} error @param {any[]} ops @returns {Promise<void> | void} */
  function notSent(error, ops) {
    const typed = pending.size > 0 || unsentText !== null;
    const status = error instanceof Refusal ? error.status : -1;
    if (status === 0 || status === 401 || status === 408 || status >= 500) {
      if (!failed || ops.length > 0) say(error instanceof Error ? error.message : "", true).classList.add("refusal");
      failed = typed;
      if (typed) timer = setTimeout(() => change([]), 2000);
      return;
    }
    const told = () => { say(error instanceof Error ? error.message : String(error), true).classList.add("refusal"); };
    if (status === 409) return reload().then(told).then(() => { timer = setTimeout(() => change([]), 0); });
    told();
    // The change was refused, not what was typed before it.
    if (typed && ops.length > 0) timer = setTimeout(() => change([]), 0);
  }

  /** @param {{ops: any[], undone?: Step}} own */
  async function sendNow(own) {
    queue.splice(queue.indexOf(own), 1);
    const asked = tab && tab !== "text" ? query() : "";
    const whole = unsentText;
    const typed = [...pending];
    for (const [at, value] of typed) sent.set(at, value);
    pending.clear();
    // What was not understood may be now: a value that another one was missing for. Whoever types in the text is not disturbed.
    const again = whole === null && !own.undone ? [...notTaken].filter(([at]) => !sent.has(at)).map(([at, own]) => [at, own.typed]) : [];
    // All of it means the document as the page shows it: entries are moved after it.
    const ops = [...(whole === null ? [] : [{ op: "text", text: whole }]), ...[...typed, ...again].map(([at, text]) => ({ op: "type", at, text })), ...own.ops];
    if (ops.length === again.length) return;
    /** @type {Edited} */
    let answer;
    try {
      answer = await ask(`/d/${doc.id}/edit`, { of: live.digest, base, n: ++count, page, ops, shape, sheet: asked });
    } catch (error) {
      for (const [at, value] of typed) if (!pending.has(at)) pending.set(at, value);
      throw error;
    } finally {
      sent.clear();
    }
    const before = text;
    ({ base, live, text, unsaved } = answer);
    if (unsentText === whole) unsentText = null;
    // Undone, what came in goes out again.
    const moves = own.undone ? own.undone.moves.toReversed().map(({ list, from, to }) => ({ list, from: to, to: from })) : answer.moved;
    const at = ops.length - again.length === 1 ? typed[0]?.[0] ?? "" : "";
    if (text !== before && !own.undone && !(at && past.at(-1)?.at === at)) past.push({ text: before, moves, at });
    if (past.length > 100) past.shift();
    for (const op of ops) if (op.op === "type") notTaken.delete(op.at);
    for (const refused of answer.refused) notTaken.set(refused.pointer, { ...refused, typed: ops.findLast(op => op.op === "type" && op.at === refused.pointer)?.text ?? "" });
    moved(moves, own.ops.filter(op => op.op === "remove").map(op => op.at));
    shape = answer.shape;
    if (answer.form !== null) await renewWhole(answer.form, moves);
    if (answer.parts.length || moves.length && answer.form === null) await renewParts(answer.parts, moves);
    fill(answer.values, answer.inherited);
    show();
    if (editor && !editor.focused() && unsentText === null) editor.set(text);
    if (answer.sheet !== null && asked === query()) await renew(frame, answer.sheet);
  }

  /** Takes what was typed out of a field, which shows again what the file states. @param {Found} found */
  function takeBack(found) {
    notTaken.delete(found.pointer);
    fill(stated, inherited);
    show();
    fieldOf(found.pointer)?.focus();
  }

  /** Shows whether the file was changed under a text that is not saved, and what keeping the text writes over. @param {Doc} now */
  function conflict(now) {
    // What was shown stays until the text is saved or thrown away.
    if (!now.unsaved) one("#conflict").hidden = true;
    else if (now.changed_on_disk) {
      one("#conflict").hidden = false;
      one("#keep-mine").dataset.now = now.on_disk ?? "";
    }
  }

  /** Takes the document as it is now. */
  async function reload(always = false) {
    const fresh = await ask(`/d/${doc.id}/state`);
    conflict(fresh);
    if (!always && fresh.live.digest === live.digest && fresh.base === base && fresh.unsaved === unsaved) return;
    if (fresh.text !== text) past.length = 0;
    ({ base, live, text, unsaved } = fresh);
    [doc.number, doc.title] = [fresh.number, fresh.title];
    shape = fresh.shape;
    await renewWhole(fresh.form);
    show();
    for (const more of all("details[data-more][open]", form)) await openBelow(/** @type {HTMLDetailsElement} */ (more));
    if (unsentText === null) editor?.set(text);
    frame.src = `/d/${doc.id}/frame?${query()}`;
  }

  /** Lets go of all that is not saved, on this page and in the program. */
  async function discard() {
    clearTimeout(timer);
    await last;
    pending.clear();
    notTaken.clear();
    unsentText = null;
    failed = false;
    await ask(`/d/${doc.id}/discard`, {});
    await reload(true);
  }

  /** Saves after what was typed, and before what is typed meanwhile. @param {string | undefined} over */
  function save(over) {
    change([]);
    last = last.then(() => saveNow(over)).catch(tell);
    return last;
  }

  async function saveNow(/** @type {string | undefined} */ over) {
    if (failed) { say("Not saved: the program does not answer. What you typed is on this page, which tries again.", true).classList.add("refusal"); return; }
    if (!unsaved) { say("Everything is saved."); return; }
    try {
      const saved = await ask(`/d/${doc.id}/save`, { of: live.digest }, { "if-match": `"${over ?? base}"` });
      base = saved.base;
      unsaved = false;
      one("#conflict").hidden = true;
      state();
      say(notTaken.size ? "Saved, but for the fields that are not understood yet." : "Saved.");
    } catch (error) {
      if (error instanceof Refusal && error.status === 412) {
        one("#conflict").hidden = false;
        one("#keep-mine").dataset.now = error.now ?? "";
        one("#conflict").scrollIntoView({ block: "center" });
        one("#keep-mine").focus();
      } else tell(error);
    }
  }

  /** @param {Found} found */
  function accept(found) {
    const dialog = /** @type {HTMLDialogElement} */ (one("#accept"));
    const reason = /** @type {HTMLTextAreaElement} */ (one("#accept-reason"));
    one("#accept-what").textContent = found.message;
    reason.value = "";
    dialog.showModal();
    dialog.onclose = () => {
      if (dialog.returnValue === "yes" && reason.value.trim()) {
        change([{ op: "accept", check: found.check, at: found.pointer, reason: reason.value, by: /** @type {HTMLInputElement} */ (one("#accept-by")).value }]);
      }
    };
  }

  function tabs() {
    const holder = one(".tabs");
    // What cannot be read meanwhile keeps its place beside the form.
    if (live.worst !== "unreadable" || live.sheets.length) sheets = live.sheets;
    const kinds = [...sheets, "text"];
    if (!kinds.includes(tab)) tab = kinds[0] ?? "text";
    if (all("button", holder).map(button => button.dataset.kind).join() !== kinds.join()) {
      holder.replaceChildren(...kinds.map(kind => make("button", { type: "button", role: "tab", id: `tab-${kind}`, "data-kind": kind, "aria-controls": kind === "text" ? "text" : "sheet" }, called(kind))));
      look(tab);
    }
  }

  /** @param {string} kind */
  async function look(kind) {
    tab = kind;
    for (const button of all(".tabs button")) {
      const own = button.dataset.kind === kind;
      button.setAttribute("aria-selected", String(own));
      button.tabIndex = own ? 0 : -1;
    }
    const isText = kind === "text";
    frame.hidden = isText;
    one(".sheet-options").hidden = isText;
    one("#text").hidden = !isText;
    one("#length-label").hidden = kind !== "estimate";
    one("#pdf").setAttribute("href", `/d/${doc.id}/pdf?${query()}`);
    if (!isText) { frame.src = `/d/${doc.id}/frame?${query()}`; return; }
    if (!editor) {
      const { edit } = await load("editor");
      editor = edit(one("#text"), text, readOnly, (/** @type {string} */ fresh) => {
        unsentText = fresh;
        state();
        clearTimeout(timer);
        timer = setTimeout(() => change([]), 200);
      });
    }
    if (unsentText === null) editor.set(text);
    show();
  }

  form.addEventListener("input", event => {
    const field = /** @type {HTMLInputElement} */ (event.target);
    if (!field.dataset.p) return;
    typing = true;
    pending.set(field.dataset.p, field.value);
    state();
    clearTimeout(timer);
    timer = setTimeout(() => change([]), 120);
  });
  form.addEventListener("focusin", event => { if (event.target instanceof HTMLInputElement) offer(event.target, doc.id); });
  form.addEventListener("toggle", event => {
    const more = /** @type {HTMLDetailsElement} */ (event.target);
    if (more.dataset.more && more.open) openBelow(more);
  }, true);
  form.addEventListener("change", async event => {
    const field = /** @type {HTMLInputElement} */ (event.target);
    if (!field.dataset.p) return;
    pending.set(field.dataset.p, field.value);
    typing = false;
    await change([]);
    // What is typed into the same field later is another change.
    const step = past.at(-1);
    if (step) step.at = "";
  });
  form.addEventListener("submit", event => event.preventDefault());
  form.addEventListener("click", event => {
    const button = /** @type {HTMLElement} */ (event.target).closest("button");
    if (!button) return;
    const { add, remove, copy, move, to } = button.dataset;
    if (move && to) {
      const way = button.dataset.way;
      change([{ op: "move", at: move, to: Number(to) }]).then(() => {
        const row = move.replace(/\d+$/, to);
        const same = /** @type {HTMLButtonElement[]} */ (all(`[data-move="${CSS.escape(row)}"]`));
        (same.find(own => own.dataset.way === way && !own.disabled) ?? same.find(own => !own.disabled))?.focus();
      });
    }
    if (remove) change([{ op: "remove", at: remove }]);
    if (copy) change([{ op: "copy", at: copy }]);
    if (add) {
      const name = /** @type {HTMLInputElement | null} */ (document.querySelector(`[data-name-for="${CSS.escape(add)}"]`));
      if (name && !name.value.trim()) { say("Give it a name first."); name.focus(); return; }
      change([{ op: "add", at: add, name: name?.value ?? "" }]);
      if (name) name.value = "";
    }
  });
  // In the table of runs: up, down and Enter go along the column.
  form.addEventListener("keydown", event => {
    const field = /** @type {HTMLElement} */ (event.target);
    const cell = field.closest("td[data-field]");
    const step = event.key === "ArrowUp" ? -1 : event.key === "ArrowDown" || event.key === "Enter" ? 1 : 0;
    if (!cell || !step || event.altKey || field.tagName === "SELECT" && event.key !== "Enter") return;
    const rows = all("tr[data-row]", cell.closest("table") ?? form);
    const row = cell.closest("tr");
    const place = [...(row?.children ?? [])].indexOf(cell);
    const next = rows[rows.indexOf(/** @type {any} */ (row)) + step]?.children[place]?.querySelector("input, select");
    if (next instanceof HTMLElement) { event.preventDefault(); next.focus(); /** @type {any} */ (next).select?.(); }
    else if (event.key === "Enter") event.preventDefault();
  });
  document.addEventListener("keydown", event => {
    if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "s") {
      event.preventDefault();
      /** @type {any} */ (document.activeElement)?.dispatchEvent(new Event("change", { bubbles: true }));
      save(undefined);
    }
  });
  document.addEventListener("keydown", event => {
    if (!(event.ctrlKey || event.metaKey) || event.shiftKey || event.key.toLowerCase() !== "z" || readOnly) return;
    // In a field and in the text the browser takes back what is typed there.
    if (/** @type {Element} */ (event.target).closest?.("input, select, textarea, #text")) return;
    event.preventDefault();
    undo();
  });
  one("#undo").addEventListener("click", undo);
  one(".tabs").addEventListener("click", event => { const kind = /** @type {HTMLElement} */ (event.target).dataset.kind; if (kind) look(kind); });
  one(".tabs").addEventListener("keydown", event => {
    const step = event.key === "ArrowRight" ? 1 : event.key === "ArrowLeft" ? -1 : 0;
    if (!step) return;
    const buttons = all(".tabs button");
    const next = buttons[(buttons.findIndex(own => own.dataset.kind === tab) + step + buttons.length) % buttons.length];
    next?.focus();
    look(next?.dataset.kind ?? tab);
  });
  for (const id of ["#units", "#terms", "#paper", "#length"]) one(id).addEventListener("change", () => look(tab));
  one("#save").addEventListener("click", () => save(undefined));
  one("#discard").addEventListener("click", async () => {
    if (!confirm("Throw away what is not saved?")) return;
    try { await discard(); } catch (error) { tell(error); }
  });
  one("#keep-mine").addEventListener("click", () => save(one("#keep-mine").dataset.now));
  one("#take-theirs").addEventListener("click", async () => {
    try { await discard(); one("#conflict").hidden = true; } catch (error) { tell(error); }
  });
  one("#versions").addEventListener("click", async () => {
    try {
      /** @type {{name: string, when: string}[]} */
      const versions = await ask(`/d/${doc.id}/versions`);
      one("#version-list").hidden = false;
      one("#version-list ul").replaceChildren(...(versions.length ? versions.map(own => make("li", {},
        `${own.when} UTC: `, make("a", { href: `/d/${doc.id}/versions/${own.name}` }, "text"), " ",
        make("a", { href: `/compare?old=${doc.id}%40${own.name}&new=${doc.id}` }, "what changed since"))) : [make("li", {}, "None yet: each save keeps the version before.")]));
      one("#version-list").scrollIntoView({ block: "center" });
    } catch (error) { tell(error); }
  });
  window.addEventListener("beforeunload", event => { if (here() || notTaken.size) event.preventDefault(); });
  listen(event => {
    if (event.what === "missed") { reload().then(() => change([])).catch(tell); return; }
    if (event.id !== doc.id) return;
    if (event.what === "changed" && event.digest !== base) {
      if (open()) {
        one("#conflict").hidden = false;
        one("#keep-mine").dataset.now = event.digest;
      } else reload().then(() => say("The file was changed by another program; this is how it is now.")).catch(tell);
    }
    if (event.what === "edited" && event.page !== page && event.digest !== live.digest) reload().catch(tell);
    if (event.what === "gone") say("Another program took this file away. Your text is still here.", true);
  });
  /** Puts in what an earlier page kept in this browser. */
  const takeKept = () => {
    for (const [at, value] of Object.entries(kept?.typed ?? {})) pending.set(at, value);
    unsentText = kept?.text ?? null;
    shelved = true;
    kept = null;
    one("#kept").hidden = true;
    typedAgain();
    change([]);
    say("What you typed here, and the program did not have, is back.");
  };
  try { kept = readOnly ? null : JSON.parse(localStorage.getItem(shelf) ?? "null"); } catch { kept = null; }
  show();
  conflict(doc);
  if (kept && kept.of === live.digest) takeKept();
  else if (kept) {
    one("#kept").hidden = false;
    one("#kept ul").replaceChildren(...Object.entries(kept.typed).map(([at, value]) =>
      make("li", {}, `${document.querySelector(`label[for="${CSS.escape(`f${at}`)}"]`)?.textContent?.trim() ?? at}: ${value || "emptied"}`)),
    ...(kept.text === null ? [] : [make("li", {}, "the text of the file")]));
  }
  one("#put-kept").addEventListener("click", takeKept);
  one("#drop-kept").addEventListener("click", () => {
    kept = null;
    shelved = true;
    one("#kept").hidden = true;
    keep();
  });
}
