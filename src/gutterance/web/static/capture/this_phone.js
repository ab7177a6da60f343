// What this phone holds and promises: its receipts, copies to take away, and letting go of what is in the office.

import { asFile, asText, putBackFile } from "./copying.js";
import { clock, counted, day, make } from "./elements.js";

export class ThisPhone {
  #parts;
  #details = document.getElementById("this-phone");
  #inside = document.getElementById("this-phone-inside");
  // What the last press came to: it stays when the rest is shown anew.
  #said = make("div", { class: "said-here", role: "status" });
  #job = () => null;

  /** `job()` is the walk that is open; `changed()` is called when entries were put back or let go. */
  constructor(parts, job, changed) {
    this.#parts = parts;
    this.#job = job;
    this.changed = changed;
    this.#details.addEventListener("toggle", () => {
      this.#said.replaceChildren();
      this.show();
    });
  }

  async show() {
    if (!this.#details.open) return;
    const job = this.#job();
    const entries = await this.#parts.outbox.entries(job).catch(() => []);
    this.#inside.replaceChildren(
      this.#said,
      make("h2", {}, "What this phone promises"),
      make("ul", {}, ...promises(this.#parts.phone).map((words) => make("li", {}, words))),
      make("h2", {}, "Take a copy"),
      this.#copying(job, entries),
      make("h2", {}, "Receipts"),
      receiptList(entries),
      job === null ? "" : this.#lettingGo(job, entries),
    );
  }

  #copying(job, entries) {
    const putBack = make("input", { type: "file", accept: ".json,application/json", class: "out-of-sight" });
    putBack.addEventListener("change", () => this.#putBack(putBack));
    const buttons = [
      make("button", { type: "button", onclick: () => this.#saveFile(job) }, "Save everything as a file"),
      make("label", { class: "button" }, "Put back from a file", putBack),
    ];
    if (job !== null) {
      buttons.unshift(make("button", { type: "button", onclick: () => this.#copyText(entries) }, "Copy the note as text"));
    }
    return make("div", { class: "doing" }, ...buttons);
  }

  async #copyText(entries) {
    const text = asText(entries);
    const copied = await toClipboard(text);
    if (copied) {
      this.#parts.news("The note is copied.");
      this.#say("Copied.");
      return;
    }
    const shown = make("textarea", { readonly: true, rows: "6", "aria-label": "The note as text" });
    shown.value = text;
    this.#say("Hold the text to copy it:", shown);
    shown.select();
  }

  async #saveFile(job) {
    const url = URL.createObjectURL(await asFile({ ...this.#parts, job }));
    const name = `gutterance-${new Date().toISOString().slice(0, 10)}.json`;
    const link = make("a", { href: url, download: name });
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(url), 60000);
    this.#say(`Saved as ${name}.`);
  }

  async #putBack(input) {
    const [file] = input.files;
    input.value = "";
    if (!file) return;
    try {
      const { count } = await putBackFile(await file.text(), this.#parts);
      await this.changed();
      await this.show();
      this.#say(`${counted(count, "entry", "entries")} put back; what was here already is as it was.`);
    } catch (fault) {
      this.#say(`Nothing put back. ${fault.message}`);
    }
  }

  #lettingGo(job, entries) {
    const allThere = entries.length > 0 && entries.every((entry) => entry.receipt);
    const button = make("button", { type: "button", class: "plain", disabled: !allThere }, "Clear this walk from this phone");
    button.addEventListener("click", async () => {
      const { heard, lost } = await this.#parts.receipts.check(job);
      if (!heard) return this.#say("The office cannot be asked just now: nothing was cleared.");
      if (lost.length > 0) return this.#say("The office no longer has all of it: nothing was cleared, and it goes once more.");
      try {
        await this.#parts.outbox.letGo(job);
      } catch (fault) {
        return this.#say(`Nothing cleared. ${fault.message}`);
      }
      await this.changed();
      await this.show();
      return this.#say("Cleared. It is in the office.");
    });
    const why = allThere
      ? "Everything of it is in the office; this only frees room here."
      : "Only once everything of it is in the office.";
    return make("div", {}, make("h2", {}, "Room"), make("p", { class: "faint" }, why), button);
  }

  #say(...words) {
    this.#said.replaceChildren(...words);
  }
}

function promises({ keeps, why, persistent, room, opensAlone }) {
  return [
    keeps ? "Lines are kept here until the office has receipted them, and after." : `Lines cannot be kept here: ${why}`,
    opensAlone
      ? "This page opens with no signal."
      : "This page cannot be opened with no signal: keep it open on the walk. (With https it can.)",
    {
      true: "The browser has promised not to clear what is kept.",
      false: "The browser may clear what is kept when the phone runs full: send before the day ends.",
      null: "Over plain http the browser cannot be asked to hold on to what is kept: send before the day ends.",
    }[persistent],
    ...(room === null ? [] : [`Room left: ${Math.round(room / 1e6).toLocaleString()} MB.`]),
  ];
}

function receiptList(entries) {
  const lines = entries.filter(({ kind }) => kind === "line" || kind === "photo");
  if (lines.length === 0) return make("p", { class: "faint" }, "Nothing captured yet.");
  return make("ol", { class: "receipts" }, ...lines.map((entry) => receiptItem(entry)));
}

function receiptItem({ id, kind, text, size, receipt, sha256 }) {
  const what = kind === "line" ? `Line ${receipt?.number ?? ""}` : "Photo";
  const when = receipt ? `${day(receipt.received_at)}, ${clock(receipt.received_at)}` : "not in the office yet";
  return make(
    "li",
    { "data-receipt": id, "data-hash": sha256 },
    make("p", {}, make("b", {}, `${what.trim()}: `), when),
    make("p", {}, kind === "line" ? text : `${size} bytes`),
    make("p", { class: "numbers faint" }, `id ${id.slice(0, 8)}, hash ${sha256.slice(0, 8)}`),
  );
}

/** Over plain http there is no clipboard to write to: the old way of copying a selection is left. */
async function toClipboard(text) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    const hidden = make("textarea", { class: "out-of-sight", "aria-hidden": "true" });
    hidden.value = text;
    document.body.append(hidden);
    hidden.select();
    const copied = document.execCommand("copy");
    hidden.remove();
    return copied;
  }
}
