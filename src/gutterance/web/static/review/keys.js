// One key for one decision. Keys do nothing while somebody types, and can be turned off altogether.

import { chosenItem, step } from "./items.js";
import { live, whenSwapped } from "./swapping.js";

const KEPT = "gutterance keys";
let on = remembered();

/** Listen for the keys that are printed on the buttons. */
export function listenForKeys() {
  document.addEventListener("keydown", (event) => {
    if (event.key === "Escape") return escape(event);
    if (!on || event.defaultPrevented || event.ctrlKey || event.metaKey || event.altKey) return undefined;
    if (isTypingIn(event.target) || event.repeat) return undefined;
    return pressed(event);
  });
  document.addEventListener("click", (event) => {
    if (event.target.closest("#keys") !== null) turn(!on);
  });
  whenSwapped(() => turn(on));
}

function pressed(event) {
  const key = event.key.toLowerCase();
  const move = { n: 1, j: 1, p: -1, k: -1 }[key];
  if (move !== undefined) {
    event.preventDefault();
    step(move);
    return;
  }
  const place = ["u", "d"].includes(key) ? live().querySelector(".doing") : chosenItem();
  const wanted = place?.querySelector(`[data-key="${CSS.escape(key)}"]`);
  if (!wanted) return;
  event.preventDefault();
  if (wanted.matches("input")) {
    wanted.focus();
    wanted.select();
  } else if (wanted.hasAttribute("data-needs-why") && !reasonOf(wanted).value.trim()) {
    reasonOf(wanted).focus();
  } else {
    wanted.click();
  }
}

function reasonOf(button) {
  return button.form.querySelector("input[name=why]");
}

function escape(event) {
  const field = event.target;
  const leave = field.closest?.(".edit")?.querySelector("[data-cancel]");
  if (leave) {
    leave.click();
  } else if (isTypingIn(field)) {
    field.blur();
    chosenItem()?.focus({ preventScroll: true });
  }
}

function isTypingIn(element) {
  return element.matches?.("input:not([type=hidden]), textarea, select, [contenteditable]") ?? false;
}

function turn(wanted) {
  on = wanted;
  const button = document.getElementById("keys");
  if (button === null) return;
  button.hidden = false;
  button.setAttribute("aria-pressed", String(on));
  button.textContent = on ? "Keys on" : "Keys off";
  document.documentElement.classList.toggle("keys-off", !on);
  try {
    localStorage.setItem(KEPT, on ? "on" : "off");
  } catch {
    // a browser that keeps nothing still has the keys
  }
}

function remembered() {
  try {
    return localStorage.getItem(KEPT) !== "off";
  } catch {
    return true;
  }
}
