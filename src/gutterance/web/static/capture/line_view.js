// One line on the page: its words, where it is, what was understood of it, and what can be done with it.

import { clock, make, symbol } from "./elements.js";

const ASKS_A_LOOK = new Set(["unread", "missing", "doubtful"]);

/** Which of the three plain states an entry is in, with its words. */
export function stateOf(entry, sendingId) {
  if (entry.receipt) return { name: "office", words: `in the office${placed(entry.receipt)}` };
  if (entry.id === sendingId) return { name: "sending", words: "sending" };
  return { name: "phone", words: "on this phone only" };
}

function placed({ received_at: at, number }) {
  const parts = [];
  if (at) parts.push(clock(at));
  if (number !== undefined && number !== null) parts.push(`line ${number}`);
  return parts.length > 0 ? ` (${parts.join(", ")})` : "";
}

/**
 * `line` is `{entry, takenBack, photos, readBack}`: its entry, the entry that takes it back, those of its
 * photos, and what the office read in it. `does` has `takeBack`, `photo`, `sayAgain` and `sendAsNew`.
 */
export function lineView(line, { sendingId, last, does }) {
  const { entry, takenBack, photos, readBack } = line;
  const state = stateOf(entry, sendingId);
  const words = make(takenBack ? "s" : "span", {}, entry.text);
  return make(
    "li",
    { id: `line-${entry.id}`, class: "line", "data-state": state.name, "data-line": entry.id },
    make("p", { class: "said" }, words),
    takenBack ? make("p", { class: "taken-back" }, "Taken back", takenBackState(takenBack, sendingId)) : null,
    takenBack ? null : understood(readBack),
    refused(entry, does),
    photoList(photos, sendingId),
    make(
      "div",
      { class: "foot-of-line" },
      make("p", { class: "state" }, symbol(state.name), state.words),
      entry.elsewhere ? null : doing(entry, { takenBack, last, does }),
    ),
  );
}

/** An answer: what was asked, what was said to it. `does` has `takeBack` and `putInBox`. */
export function answerView({ entry, takenBack }, { sendingId, last, does }) {
  const state = stateOf(entry, sendingId);
  const buttons = [];
  if (entry.refused) buttons.push(make("button", { type: "button", onclick: () => does.putInBox(entry.says) }, "Put it in the box"));
  else if (!takenBack) buttons.push(make("button", { type: "button", onclick: () => does.takeBack(entry) }, "Take back"));
  return make(
    "li",
    { id: `line-${entry.id}`, class: "line answered", "data-state": state.name, "data-answer": entry.id },
    make("p", { class: "asked" }, entry.asks),
    make("p", { class: "said" }, make(takenBack ? "s" : "span", {}, entry.says)),
    takenBack ? make("p", { class: "taken-back" }, "Taken back", takenBackState(takenBack, sendingId)) : null,
    refusedWords(entry),
    make(
      "div",
      { class: "foot-of-line" },
      make("p", { class: "state" }, symbol(state.name), state.words),
      buttons.length ? folded(entry.says, make("div", { class: "doing" }, ...buttons), last || Boolean(entry.refused)) : null,
    ),
  );
}

function refusedWords({ refused }) {
  if (!refused) return null;
  const { words, next } = refused;
  return make("p", { class: "refused" }, symbol("mind"), `Not taken by the office: ${words}${next ? ` ${next}` : ""} It stays on this phone.`);
}

function folded(words, row, open) {
  if (open) return row;
  return make("details", { class: "more" }, make("summary", { "aria-label": `More to do with: ${words}` }, symbol("more")), row);
}

function takenBackState(entry, sendingId) {
  return entry.receipt ? "." : ` (that is ${stateOf(entry, sendingId).words}).`;
}

function understood(readBack) {
  if (!readBack || readBack.says.length === 0) return null;
  const look = ASKS_A_LOOK.has(readBack.status);
  return make(
    "ul",
    { class: look ? "understood look" : "understood", "aria-label": "Understood" },
    ...readBack.says.map((statement) => make("li", {}, look ? symbol("mind") : "", statement)),
  );
}

function refused(entry, does) {
  if (!entry.refused) return null;
  const button = entry.refused.clash
    ? make("button", { type: "button", onclick: () => does.sendAsNew(entry) }, "Send as a new line")
    : null;
  return make("div", {}, refusedWords(entry), button);
}

function photoList(photos, sendingId) {
  if (photos.length === 0) return null;
  return make(
    "ul",
    { class: "photos" },
    ...photos.map((photo, at) => {
      const state = stateOf(photo, sendingId);
      const size = `${(photo.size / 1e6).toFixed(1)} MB`;
      const refusal = photo.refused ? ` Not taken: ${photo.refused.words}` : "";
      return make(
        "li",
        { "data-state": state.name, "data-photo": photo.id },
        symbol(state.name),
        `Photo ${at + 1}, ${size}: ${state.words}${refusal}`,
      );
    }),
  );
}

function doing(entry, { takenBack, last, does }) {
  const buttons = [];
  if (takenBack) {
    buttons.push(make("button", { type: "button", onclick: () => does.sayAgain(entry) }, "Say it again"));
  } else {
    buttons.push(photoButton(entry, does));
    buttons.push(make("button", { type: "button", onclick: () => does.takeBack(entry) }, "Take back"));
  }
  return folded(entry.text, make("div", { class: "doing" }, ...buttons), last);
}

function photoButton(entry, does) {
  const input = make("input", { type: "file", accept: "image/*", capture: "environment", class: "out-of-sight" });
  input.addEventListener("change", () => {
    const [file] = input.files;
    input.value = "";
    if (file) does.photo(entry, file);
  });
  return make("label", { class: "button" }, "Photo", input);
}
