// The page of one walk: the note's lines with what was understood, the next question, the box below.

import { counted, make, symbol } from "./elements.js";
import { answerView, lineView, stateOf } from "./line_view.js";
import { newId } from "./ids.js";
import { Note } from "./note.js";
import { isReceiptFor } from "./outbox.js";
import { photoFrom } from "./photos.js";
import { countWords, questionsView } from "./question_view.js";
import { sha256OfText } from "./sha256.js";
import { Showing, inOrder } from "./showing.js";

const byId = (id) => document.getElementById(id);

export class JobPage {
  #parts;
  #job = null;
  #note = new Note();
  #showing = new Showing();
  #sending = null;
  #standing = { is: "all sent", why: null };
  #straight = new Map();
  #ofOtherWalks = 0;
  #listening = null;
  #listenAgain = false;

  constructor(parts) {
    this.#parts = parts;
  }

  get job() {
    return this.#job;
  }

  async open(job) {
    this.#job = job;
    byId("job").hidden = job === null;
    if (job === null) return;
    this.#note = new Note();
    this.#show();
    this.#note.heard = await this.#parts.readBack.last(job);
    await this.reload();
    this.#toEnd();
    this.listen();
  }

  /** Shows the title as this phone knows it, and asks the office for it. */
  async showTitle() {
    const { jobs, office } = this.#parts;
    const job = this.#job;
    const put = (title) => {
      if (this.#job !== job) return;
      byId("job-title").textContent = title ?? "Untitled walk";
      document.title = title ?? "Capture";
    };
    put(await jobs.title(job));
    const { from, status, body } = await office.job(job);
    if (from !== "office" || status !== 200) return;
    await jobs.remember(job, body.title).catch(() => {});
    put(body.title);
  }

  /** Reads the phone's own store again and shows all. */
  async reload() {
    if (this.#job === null) return;
    try {
      this.#note.hold(await this.#parts.outbox.entries(this.#job));
    } catch (fault) {
      this.#parts.warn(`What is kept on this phone cannot be read just now: ${fault.message}`);
    }
    await this.#countOtherWalks();
    this.#show();
  }

  /** Asks the office what it understood: one question at a time, so that no older answer comes after a newer. */
  listen() {
    if (this.#job === null) return null;
    this.#listenAgain = true;
    this.#listening ??= this.#listenNow();
    return this.#listening;
  }

  async #listenNow() {
    try {
      while (this.#listenAgain) {
        this.#listenAgain = false;
        const job = this.#job;
        const heard = job === null ? null : await this.#parts.readBack.ask(job);
        if (heard !== null && this.#job === job) this.#understand(heard);
      }
    } finally {
      this.#listening = null;
    }
  }

  #understand(heard) {
    this.#note.heard = heard;
    const stays = this.#isAtEnd();
    this.#show();
    if (stays) this.#toEnd();
  }

  /** What the sender tells. */
  hear({ sending, changed, standing, lost }) {
    if (sending !== undefined) {
      const before = this.#sending;
      this.#sending = sending;
      this.#showAgain(before);
      this.#showAgain(sending);
    }
    if (changed && changed.job === this.#job) {
      this.#note.change(changed);
      this.#showAgain(changed.id);
      if (changed.receipt && changed.kind === "line") this.#parts.news(`In the office, line ${changed.receipt.number}.`);
    }
    if (lost) this.reload();
    if (standing) {
      this.#standing = standing;
      this.#countOtherWalks().then(() => this.#showStanding());
    }
    this.#showStanding();
  }

  #show() {
    const lines = this.#note.lines();
    const last = lines.filter(({ entry }) => !entry.elsewhere).at(-1) ?? lines.at(-1);
    inOrder(
      byId("lines"),
      lines.map((line) => this.#showing.element(this.#view(line, line === last))),
    );
    byId("no-lines").hidden = lines.length > 0;
    this.#showQuestions();
    const { heard } = this.#note;
    byId("count").textContent = heard ? countWords(heard.counts) : "";
    this.#showStanding();
  }

  #showQuestions() {
    const given = (question) => {
      const answer = this.#note.answerTo(question);
      return answer && `${answer.says} (${stateOf(answer, this.#sending).words})`;
    };
    const views = questionsView(this.#note.heard?.questions ?? [], given, {
      take: (question, offer, says) => this.#answer(question, { offer, says }),
      answer: (question) => this.#parts.box.answer(question),
    });
    this.#showing.fill(byId("questions"), views);
  }

  #view(line, last) {
    const does = {
      putInBox: (words) => this.#parts.box.put(words),
      takeBack: (entry) => this.#takeBack(entry),
      photo: (entry, file) => this.#photo(entry, file),
      sayAgain: (entry) => this.#parts.box.put(entry.text),
      sendAsNew: (entry) => this.#sendAsNew(entry),
    };
    const view = line.entry.kind === "answer" ? answerView : lineView;
    return view(line, { sendingId: this.#sending, last, does });
  }

  /** Keeps an answer of one's own words; throws where the phone cannot. */
  keepAnswer(job, question, says, draft) {
    return this.#kept(job, "Answer kept on this phone.", () =>
      this.#parts.outbox.addAnswer(job, question, this.#note.heard?.revision ?? 0, { says }, draft),
    );
  }

  async #answer(question, given) {
    try {
      await this.#kept(this.#job, "Answer kept on this phone.", () =>
        this.#parts.outbox.addAnswer(this.#job, question, this.#note.heard.revision, given),
      );
    } catch (fault) {
      this.#parts.warn(`Answer not kept. ${fault.message}`);
    }
  }

  #showAgain(id) {
    const entry = this.#note.subjectOf(id);
    const there = byId(`line-${entry?.id}`);
    if (there === null) return;
    const last = there.querySelector("details.more") === null;
    this.#showing.element(this.#view(this.#note.line(entry), last));
    if (entry.kind === "answer") this.#showQuestions();
  }

  #showStanding() {
    const waiting = this.#note.waiting();
    const others = this.#ofOtherWalks;
    byId("send-now").hidden = waiting + others === 0;
    const words = [];
    if (waiting > 0) {
      words.push(symbol(this.#sending ? "sending" : "phone"), `${waiting} on this phone only. `);
    } else if (this.#note.entries.length > 0) {
      words.push(symbol("office"), "All in the office. ");
    }
    if (others > 0) words.push(symbol("phone"), `${others} of other walks on this phone only. `);
    const { is, why } = this.#standing;
    if (waiting + others > 0 && why !== null && !this.#sending) words.push(why);
    if (is === "paused") words.push(" ", make("a", { href: "/pair" }, "Pair this phone"));
    byId("standing").replaceChildren(...words);
  }

  async #countOtherWalks() {
    const waiting = await this.#parts.outbox.waiting().catch(() => []);
    this.#ofOtherWalks = waiting.filter(({ job }) => job !== this.#job).length;
  }

  /** Keeps lines of a walk; throws where the phone cannot. */
  keep(job, texts, draft) {
    const words = `${counted(texts.length, "line")} kept on this phone.`;
    return this.#kept(job, words, () => this.#parts.outbox.addLines(job, texts, draft));
  }

  async #kept(job, words, add) {
    const { news, tabs, sender } = this.#parts;
    await add();
    news(words);
    tabs.say({ changed: job });
    await this.reload();
    this.#toEnd();
    sender.start();
  }

  /** Sends lines that this phone cannot keep; throws unless the office gives a receipt for each. */
  async sendStraight(job, texts) {
    const { office, sender, news } = this.#parts;
    await sender.start();
    for (const text of texts) {
      // The same words tried again are the same line.
      if (!this.#straight.has(text)) this.#straight.set(text, newId());
      const at = new Date().toISOString();
      const entry = { kind: "line", id: this.#straight.get(text), job, text, sha256: sha256OfText(text), at, after: null };
      const { from, body } = await office.give(entry);
      if (from !== "office" || !isReceiptFor(entry, body)) throw new Error("The office cannot be reached either.");
      this.#straight.delete(text);
    }
    news("In the office.");
    await this.listen();
  }

  /** The office has other words under this line's id, and keeps both: these go once more under a new one. */
  async #sendAsNew(entry) {
    try {
      await this.keep(entry.job, [entry.text], null);
    } catch (fault) {
      this.#parts.warn(`Not sent as a new line. ${fault.message}`);
    }
  }

  async #takeBack(entry) {
    const { outbox, news, tabs, sender } = this.#parts;
    try {
      await outbox.takeBack(entry.id);
    } catch (fault) {
      this.#parts.warn(`Not taken back. ${fault.message}`);
      return;
    }
    news("Taken back.");
    tabs.say({ changed: this.#job });
    await this.reload();
    byId(`line-${entry.id}`)?.querySelector("button")?.focus();
    sender.start();
  }

  async #photo(entry, file) {
    const { outbox, news, tabs, sender } = this.#parts;
    try {
      const photo = await photoFrom(file);
      await outbox.addPhoto(entry.id, photo);
      news(photo.smaller ? "Photo kept on this phone, made smaller." : "Photo kept on this phone.");
    } catch (fault) {
      this.#parts.warn(`Photo not kept. ${fault.message}`);
      return;
    }
    tabs.say({ changed: this.#job });
    await this.reload();
    sender.start();
  }

  /** Whether what was said last is in sight: then it stays so when its read-back comes. */
  #isAtEnd() {
    return byId("questions").getBoundingClientRect().top < innerHeight;
  }

  #toEnd() {
    if (this.#job !== null) byId("count").scrollIntoView({ block: "end" });
  }
}
