// The box in which a line is said or typed. Every burst is saved as a draft; the words leave the box only
// once they are kept as lines, or, where the phone cannot keep them, once the office has receipted them.

import { counted, make, symbol } from "./elements.js";
import { LONGEST_LINE, linesOf } from "./outbox.js";

export class Box {
  #form = document.getElementById("box");
  #words = document.getElementById("words");
  #button = document.getElementById("keep");
  #fault = document.getElementById("not-kept");
  #placeholder = this.#words.getAttribute("placeholder");
  #drafts;
  #keep;
  #keepAnswer;
  #straight;
  #job = null;
  #question = null;
  #busy = false;

  /** `keep(job, texts, draft)` keeps lines and throws where it cannot; `straight(job, texts)` sends them unkept; `keepAnswer(job, question, says, draft)`. */
  constructor({ drafts, keep, keepAnswer, straight }) {
    this.#drafts = drafts;
    this.#keep = keep;
    this.#keepAnswer = keepAnswer;
    this.#straight = straight;
    this.#form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.keep();
    });
    this.#words.addEventListener("input", (event) => this.#typed(event));
    this.#words.addEventListener("keydown", (event) => {
      if (event.key === "Enter" && !event.shiftKey && !event.isComposing) {
        event.preventDefault();
        this.keep();
      }
    });
    addEventListener("pagehide", () => this.#save());
    document.addEventListener("visibilitychange", () => document.hidden && this.#save());
  }

  async open(job) {
    this.#save();
    this.#job = job;
    this.#form.hidden = job === null;
    this.#fault.replaceChildren();
    this.answer(null);
    if (job === null) return;
    this.put((await this.#drafts.turnTo(job))?.text ?? "", { save: false, anew: true });
  }

  /** Puts words into the box, after what stands there. */
  put(text, { save = true, anew = false } = {}) {
    const there = this.#words.value.trim() === "" || anew ? "" : `${this.#words.value.trimEnd()} `;
    this.#words.value = there + text;
    this.#fit();
    if (save) {
      this.#save();
      this.#words.focus();
    }
  }

  /** What is kept next answers a question, until it is kept or put off. */
  answer(question) {
    this.#question = question;
    const place = document.getElementById("answering");
    place.replaceChildren();
    this.#words.setAttribute("placeholder", question === null ? this.#placeholder : "Say or type the answer");
    if (question === null) return;
    const off = make("button", { type: "button", class: "plain", onclick: () => this.answer(null) }, "Not now");
    place.append(make("p", {}, `Answer to: ${question.asks}`), off);
    this.#words.focus();
  }

  async keep() {
    const said = this.#words.value;
    const texts = linesOf(said);
    const job = this.#job;
    if (this.#busy || job === null || texts.length === 0) return;
    const long = texts.find((text) => [...text].length > LONGEST_LINE);
    if (long !== undefined) {
      this.#tellFault(`One line has ${[...long].length} characters; the office takes ${LONGEST_LINE}. Part it in two.`, []);
      return;
    }
    this.#busy = true;
    try {
      const draft = this.#drafts.id;
      await this.#drafts.settled();
      if (this.#question === null) await this.#keep(job, texts, draft);
      else await this.#keepAnswer(job, this.#question, texts.join(" "), draft);
      this.answer(null);
      if (this.#job === job) {
        this.#drafts.startAnew();
        this.#leave(said);
      }
    } catch (fault) {
      this.#tellNotKept(fault);
    } finally {
      this.#busy = false;
    }
    if (this.#words.value !== "") this.#save();
  }

  /** Takes what was kept out of the box, and leaves what was typed meanwhile. */
  #leave(said) {
    this.#fault.replaceChildren();
    const now = this.#words.value;
    this.#words.value = now.startsWith(said) ? now.slice(said.length) : now;
    this.#fit();
  }

  #typed(event) {
    this.#fit();
    this.#save();
    // A phone's keyboard says Enter, and dictation says `new line`, as a line break: that keeps the line.
    const broken = event.inputType === "insertLineBreak" || event.inputType === "insertParagraph";
    if (broken && !event.isComposing) this.keep();
  }

  #save() {
    // While lines are being kept, what is typed meanwhile is saved right after, under a draft of its own.
    if (this.#job === null || this.#busy) return;
    this.#drafts.save(this.#words.value).catch((fault) => this.#tellNotKept(fault));
  }

  #fit() {
    const count = linesOf(this.#words.value).length;
    this.#button.textContent = count > 1 ? `Keep ${counted(count, "line")}` : "Keep";
    this.#words.rows = Math.min(6, Math.max(2, Math.ceil(this.#words.value.length / 28), count));
  }

  #tellNotKept(fault) {
    const words = `Not kept. ${fault.message} The words stay in the box: do not close this page.`;
    const again = make("button", { type: "button", onclick: () => this.keep() }, "Try again");
    const straight = make("button", { type: "button", onclick: () => this.#sendStraight() }, "Send straight to the office");
    this.#tellFault(words, [again, straight]);
  }

  #tellFault(words, buttons) {
    this.#fault.replaceChildren(
      make("p", { class: "warning" }, symbol("mind"), words),
      make("div", { class: "doing" }, ...buttons),
    );
  }

  async #sendStraight() {
    const said = this.#words.value;
    if (this.#busy) return;
    this.#busy = true;
    this.#tellFault("Not kept here. Sending straight to the office ...", []);
    try {
      await this.#straight(this.#job, linesOf(said));
      this.#leave(said);
    } catch (fault) {
      this.#tellNotKept(fault);
    } finally {
      this.#busy = false;
    }
  }
}
