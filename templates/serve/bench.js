// The cards at the bench: those that were opened stay readable out of reach of the network, and say so.
// @ts-check

/** Cards that stay at the most: the one that was opened longest ago goes first. */
const MOST = 12;
const list = /** @type {HTMLElement} */ (document.querySelector("#cards"));
const shown = /** @type {HTMLElement} */ (document.querySelector("#shown"));
const away = /** @type {HTMLElement} */ (document.querySelector("#away"));
const frames = /** @type {HTMLElement} */ (document.querySelector("#frames"));
/** The cards that were opened, each in a frame of its own, the last one last. @type {Map<string, {frame: HTMLIFrameElement, at: Date}>} */
const opened = new Map();

/** Whether the program answers, and with this card. @param {string} address @returns {Promise<number>} */
async function answers(address) {
  try {
    return (await fetch(address, { method: "HEAD", cache: "no-store" })).status;
  } catch {
    return 0;
  }
}

/** @param {string} words */
function say(words) {
  away.textContent = words;
  away.hidden = words === "";
}

/** Loads a card anew into a frame of its own. @param {string} address @returns {Promise<HTMLIFrameElement>} */
function load(address) {
  return new Promise(done => {
    const frame = document.createElement("iframe");
    frame.title = "Bench card";
    frame.setAttribute("sandbox", "allow-same-origin");
    frame.addEventListener("load", () => done(frame), { once: true });
    frame.src = address;
    frame.hidden = true;
    frames.append(frame);
  });
}

/** Shows the card that the address of this page names, or the list. */
async function show() {
  const address = decodeURIComponent(location.hash.slice(1));
  const link = /** @type {HTMLAnchorElement | undefined} */ ([...list.querySelectorAll("a")].find(own => own.getAttribute("href") === address));
  list.hidden = link !== undefined;
  shown.hidden = link === undefined;
  for (const { frame } of opened.values()) frame.hidden = true;
  say("");
  if (!link) return;
  const kept = opened.get(address);
  if (kept) kept.frame.hidden = false;
  const status = await answers(address);
  if (decodeURIComponent(location.hash.slice(1)) !== address) return;
  if (status === 200) {
    const frame = await load(address);
    kept?.frame.remove();
    opened.delete(address);
    opened.set(address, { frame, at: new Date() });
    for (const [oldest, { frame }] of opened) {
      if (opened.size <= MOST) break;
      frame.remove();
      opened.delete(oldest);
    }
    frame.hidden = decodeURIComponent(location.hash.slice(1)) !== address;
  } else if (status !== 0) {
    // It was taken away, or nobody may see it any more: what was kept of it is no instruction.
    kept?.frame.remove();
    opened.delete(address);
    say("There is no such card any more. Go back to the list.");
  } else if (kept) {
    say(`Out of reach of the network: this is the card as it was at ${kept.at.toLocaleTimeString()}.`);
  } else {
    say("Out of reach of the network, and this card was not opened before.");
  }
}

list.addEventListener("click", event => {
  const link = /** @type {HTMLElement} */ (event.target).closest("a");
  const address = link?.getAttribute("href");
  if (!address?.startsWith("card/")) return;
  event.preventDefault();
  location.hash = encodeURIComponent(address);
});
window.addEventListener("hashchange", show);
show();
