// The questions to settle: one is open at a time, the next one comes by itself when it is settled.

let chosen = null;
let place = 0;

/** All questions on the page, in their order. */
export function items() {
  return [...document.querySelectorAll("[data-item]")];
}

/** The first question that the crew was not asked yet, or the first of all. */
export function firstOpen() {
  return items().find((item) => !item.classList.contains("asked")) ?? items()[0] ?? null;
}

/** The question that is open, or null where it is settled and gone. */
export function chosenItem() {
  return chosen === null ? null : document.getElementById(chosen);
}

/** Open a question. With `focus` it is also where the keyboard is. */
export function chooseItem(item, { focus = true } = {}) {
  for (const other of items()) other.classList.toggle("now", other === item);
  chosen = item === null ? null : item.id;
  if (item === null) return;
  place = items().indexOf(item);
  if (focus) {
    item.focus({ preventScroll: true });
    item.scrollIntoView({ block: "nearest" });
  }
  item.dispatchEvent(new CustomEvent("chosen", { bubbles: true }));
}

/** The question so many further on (or back); behind the last comes the first. */
export function step(by) {
  const all = items();
  if (all.length === 0) return;
  const at = all.indexOf(chosenItem());
  chooseItem(all[at < 0 ? 0 : (at + by + all.length) % all.length]);
}

/** After a swap: the same question again, or the one that took its place in the list. */
export function chooseAgain() {
  const same = chosenItem();
  if (same !== null) {
    chooseItem(same, { focus: false });
    return;
  }
  const all = items();
  const open = all.slice(place).find((item) => !item.classList.contains("asked"));
  chooseItem(open ?? firstOpen(), { focus: all.length > 0 });
}

document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-step]");
  if (button !== null) step(Number(button.dataset.step));
  const item = event.target.closest("[data-item]");
  if (item !== null && !item.classList.contains("now")) chooseItem(item);
});

document.addEventListener("focusin", (event) => {
  const item = event.target.closest("[data-item]");
  if (item !== null && !item.classList.contains("now")) chooseItem(item, { focus: false });
});
