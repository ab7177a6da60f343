// Words of the note and values of the sheet, shown together: choose either and both are marked.

import { whenSwapped, live } from "./swapping.js";

let shown = "";

/** Mark what belongs to those paths, and bring it into sight in the other column. */
export function showPaths(paths, { from = null } = {}) {
  shown = paths.join("|");
  const wanted = new Set(paths);
  const ours = (element) => (element.dataset.paths ?? "").split("|").some((path) => wanted.has(path));
  for (const word of live().querySelectorAll(".w")) word.classList.toggle("on", ours(word));
  for (const row of live().querySelectorAll("[data-path]")) {
    row.classList.toggle("on", wanted.has(row.dataset.path));
  }
  if (from === null) return;
  if (!from.closest("#note")) bring(live().querySelector(".w.on"));
  if (!from.closest("#sheet")) bring(live().querySelector("tr.on, .loose .on"));
}

/** Scroll a pane, never the page, so that an element in it is seen: one stays where one works. */
function bring(element) {
  const pane = element?.closest("#note, .pane");
  if (!pane || pane.scrollHeight <= pane.clientHeight) return;
  const [at, all] = [element.getBoundingClientRect(), pane.getBoundingClientRect()];
  if (at.top < all.top || at.bottom > all.bottom) pane.scrollTop += at.top - all.top - pane.clientHeight / 3;
}

/** Follow the keyboard and the pointer. Each column is one stop of the tab key; arrows go on inside. */
export function linkWords() {
  document.addEventListener("focusin", (event) => {
    const at = event.target.closest(".w, .val");
    if (at !== null) showPaths(at.dataset.paths.split("|"), { from: at });
  });
  document.addEventListener("click", (event) => {
    const at = event.target.closest("a[data-paths]:not([data-swap])");
    if (at === null || event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    showPaths(at.dataset.paths.split("|"), { from: at });
    if (at.closest("#note") === null) live().querySelector(".w.on")?.focus();
  });
  document.addEventListener("chosen", (event) => {
    showPaths((event.target.dataset.paths ?? "").split("|"), { from: event.target });
  });
  document.addEventListener("keydown", arrows);
  whenSwapped(() => {
    for (const [column, kind] of columns()) roving(column, kind);
    const first = live().querySelector("tr.on, .w.on");
    if (first === null && shown) showPaths(shown.split("|"));
  });
}

function columns() {
  return [["#note", ".w"], ["#sheet", ".val"]];
}

function roving(column, kind) {
  const all = [...live().querySelectorAll(`${column} ${kind}`)];
  for (const one of all) one.tabIndex = -1;
  const first = all.find((one) => one.matches(".on, .on *")) ?? all[0];
  if (first) first.tabIndex = 0;
}

function arrows(event) {
  const at = event.target.closest?.(".w, .val");
  if (!at || event.altKey || event.ctrlKey || event.metaKey) return;
  const [column, kind] = columns().find(([, name]) => at.matches(name));
  const all = [...live().querySelectorAll(`${column} ${kind}`)];
  const by = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
  if (by === undefined) return;
  event.preventDefault();
  const next = all[all.indexOf(at) + by];
  if (next === undefined) return;
  for (const one of all) one.tabIndex = -1;
  next.tabIndex = 0;
  next.focus();
}
