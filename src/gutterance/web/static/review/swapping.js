// The live part of the page, replaced by what the server shows now. What somebody is typing is never replaced.

import { chooseAgain } from "./items.js";

const listeners = [];
let sending = false;

/** Call `listener` now and after each time the page was replaced. */
export function whenSwapped(listener) {
  listeners.push(listener);
  listener();
}

/** The part of the page that is replaced. */
export function live() {
  return document.getElementById("live");
}

/** Whether somebody has typed something that is not sent yet. */
export function isTyping() {
  return [...live().querySelectorAll("input:not([type=hidden])")].some(
    (field) => field.value !== field.defaultValue || field === document.activeElement,
  );
}

/** Show what is at an address, without leaving the page. */
export async function swapTo(address, { from = null } = {}) {
  const answer = await asked(address, {});
  if (answer !== null) await show(answer, from);
}

/** Send a form as its button would, and show what comes of it. */
export async function sendForm(form, button) {
  if (sending) return;
  const data = new URLSearchParams(new FormData(form));
  if (button?.name) data.append(button.name, button.value);
  sending = true;
  try {
    const answer = await asked(form.action, { method: "POST", body: data });
    if (answer !== null) await show(answer, form, button?.id);
  } finally {
    sending = false;
  }
}

async function asked(address, options) {
  try {
    return await fetch(address, { ...options, headers: { "X-Gutterance": "1" } });
  } catch {
    tell("The office's server does not answer. Nothing was kept; what you typed is still here.");
    return null;
  }
}

async function show(answer, from, button = "") {
  const text = await answer.text();
  const page = new DOMParser().parseFromString(text, "text/html");
  const fresh = page.getElementById("live");
  if (fresh === null) {
    const why = page.querySelector("main")?.textContent.trim().replace(/\s+/g, " ");
    tell(why || "That could not be done. Nothing was kept.");
    return;
  }
  const note = document.getElementById("note")?.scrollTop ?? 0;
  live().replaceWith(document.adoptNode(fresh));
  const noteNow = document.getElementById("note");
  if (noteNow !== null) noteNow.scrollTop = note;
  chooseAgain();
  for (const listener of listeners) listener();
  placeFocus(answer.url, from, button);
}

function placeFocus(address, from, button) {
  const wanted =
    live().querySelector("#notice a, #notice button, #notice[tabindex]") ??
    live().querySelector("[autofocus]") ??
    (button ? document.getElementById(button) : null);
  if (wanted !== null) {
    wanted.focus();
    if (wanted.select) wanted.select();
    return;
  }
  const name = decodeURIComponent(new URL(address, location.href).hash.slice(1) || hashOf(from));
  const target = name ? document.getElementById(name) : null;
  if (target?.matches("tr")) target.querySelector("a.val")?.focus();
  else if (name === "say") document.getElementById("say")?.focus();
}

function hashOf(from) {
  if (from instanceof HTMLAnchorElement) return from.hash.slice(1);
  const path = from?.querySelector("input[name=path]");
  return path ? `v-${path.value}` : from?.matches(".add") ? "say" : "";
}

/** Say something in the line that is read out. */
export function tell(words) {
  const place = document.getElementById("told");
  place.replaceChildren(Object.assign(document.createElement("p"), { className: "told", textContent: words }));
}
