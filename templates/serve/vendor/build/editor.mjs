// The text of a document, with marks at the places of faults.
import { defaultKeymap, history, historyKeymap } from "@codemirror/commands";
import { yaml } from "@codemirror/lang-yaml";
import { HighlightStyle, syntaxHighlighting } from "@codemirror/language";
import { lintGutter, setDiagnostics } from "@codemirror/lint";
import { highlightSelectionMatches, searchKeymap } from "@codemirror/search";
import { Annotation, EditorState } from "@codemirror/state";
import { EditorView, highlightActiveLine, keymap, lineNumbers } from "@codemirror/view";
import { tags } from "@lezer/highlight";

const FROM_OUTSIDE = Annotation.define();

const colours = HighlightStyle.define([
  { tag: [tags.definition(tags.propertyName), tags.propertyName], color: "var(--accent)" },
  { tag: tags.comment, color: "var(--soft)", fontStyle: "italic" },
  { tag: [tags.string, tags.number], color: "var(--ink)" },
]);

const look = EditorView.theme({
  "&": { height: "100%", color: "var(--ink)", backgroundColor: "var(--paper)" },
  ".cm-scroller": { fontFamily: "ui-monospace, 'Liberation Mono', monospace", fontSize: ".875rem" },
  ".cm-gutters": { color: "var(--soft)", backgroundColor: "var(--ground)", borderRight: "1px solid var(--rule)" },
  ".cm-activeLine": { backgroundColor: "color-mix(in srgb, var(--accent) 8%, transparent)" },
  ".cm-cursor": { borderLeftColor: "var(--ink)" },
  "&.cm-focused .cm-selectionBackground, .cm-selectionBackground": { backgroundColor: "color-mix(in srgb, var(--accent) 25%, transparent) !important" },
  ".cm-tooltip": { color: "var(--ink)", backgroundColor: "var(--paper)", border: "1px solid var(--edge)" },
});

/** Puts an editor into an element; `changed` hears of what is typed. */
export function edit(place, text, readOnly, changed) {
  // Inside a shadow the styles go in as sheets, which the page's policy allows.
  const root = place.shadowRoot ?? place.attachShadow({ mode: "open" });
  const holder = document.createElement("div");
  root.append(holder);
  holder.style.height = "100%";
  const view = new EditorView({
    parent: holder,
    root,
    state: EditorState.create({
      doc: text,
      extensions: [
        lineNumbers(), history(), highlightActiveLine(), highlightSelectionMatches(), yaml(), lintGutter(), look,
        syntaxHighlighting(colours), EditorView.lineWrapping, EditorState.readOnly.of(readOnly),
        EditorView.contentAttributes.of({ "aria-label": "Text of the file" }),
        keymap.of([...defaultKeymap, ...historyKeymap, ...searchKeymap]),
        EditorView.updateListener.of(update => {
          if (update.docChanged && !update.transactions.some(one => one.annotation(FROM_OUTSIDE))) changed(update.state.doc.toString());
        }),
      ],
    }),
  });
  // What scrolls can be scrolled by keyboard.
  view.scrollDOM.tabIndex = 0;
  return {
    focused: () => view.hasFocus,
    set(fresh) {
      const now = view.state.doc.toString();
      if (now === fresh) return;
      // Only what differs is put in, so that the cursor stays where it is.
      let from = 0;
      while (from < now.length && from < fresh.length && now[from] === fresh[from]) from += 1;
      let end = 0;
      while (end < now.length - from && end < fresh.length - from && now[now.length - 1 - end] === fresh[fresh.length - 1 - end]) end += 1;
      view.dispatch({
        changes: { from, to: now.length - end, insert: fresh.slice(from, fresh.length - end) },
        annotations: FROM_OUTSIDE.of(true),
      });
    },
    marks(faults) {
      const most = view.state.doc.length;
      const inside = faults.map(fault => ({ ...fault, from: Math.min(fault.from, most), to: Math.min(Math.max(fault.to, fault.from), most) }));
      view.dispatch(setDiagnostics(view.state, inside));
    },
  };
}
