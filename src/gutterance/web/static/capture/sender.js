// Sends what waits, one entry at a time, in order. It starts at every reason to (load, focus, back online, a
// timer, the button, a line just kept), and stops at the first thing that would go the same for the next.

import { meaningOf } from "./meaning.js";

const STUMBLES = 4;
const CHECKED_FOR = 30000;
const WAITS = [1000, 2000, 5000, 10000, 20000, 30000];

export class Sender {
  #outbox;
  #office;
  #receipts;
  #jobs;
  #tabs;
  #tell;
  #waits;
  #timer = null;
  #running = null;
  #again = false;
  #fails = 0;
  #stumbles = new Map();
  #checked = new Map();

  /**
   * `tell(news)` hears `{sending: id | null}`, `{changed: entry}`, `{lost: entries}` and
   * `{standing: {is, why}}`; `waits` are the milliseconds between tries, the last one for ever after.
   */
  constructor({ outbox, office, receipts, jobs, tabs, tell, waits = WAITS }) {
    this.#outbox = outbox;
    this.#office = office;
    this.#receipts = receipts;
    this.#jobs = jobs;
    this.#tabs = tabs;
    this.#tell = tell;
    this.#waits = waits;
  }

  /** Sends now; called while it sends, it looks once more at the end. Resolves when it has stopped. */
  start() {
    this.#again = true;
    this.#running ??= this.#work().finally(() => {
      this.#running = null;
    });
    return this.#running;
  }

  async #work() {
    clearTimeout(this.#timer);
    let outcome;
    while (this.#again) {
      this.#again = false;
      try {
        outcome = await this.#round();
      } catch (fault) {
        outcome = { is: "try later", why: fault.message };
      }
    }
    this.#tell({ sending: null });
    if (outcome.is === "done") {
      this.#fails = 0;
      this.#tell({ standing: { is: "all sent", why: null } });
    } else {
      this.#tryLater(outcome);
    }
  }

  #tryLater({ is, why, later }) {
    const wait = this.#waits[Math.min(this.#fails, this.#waits.length - 1)];
    this.#fails += 1;
    this.#checked.clear();
    // Phones that lost the office together should not all come back at the same moment.
    const spread = wait * (0.8 + 0.4 * Math.random());
    this.#timer = setTimeout(() => this.start(), Math.max(spread, (later ?? 0) * 1000));
    this.#tell({ standing: { is, why } });
  }

  /** Once through all that waits. What cannot go now holds up those behind it only where it must. */
  async #round() {
    const passed = new Set();
    const brought = new Set();
    let trouble = null;
    for (;;) {
      const next = await this.#next(passed);
      if (next === null) return trouble ?? { is: "done" };
      const stopped = await this.#check(next.job);
      if (stopped !== null) return stopped;
      const entry = await this.#next(passed);
      if (entry === null) continue;
      const meaning = await this.#send(entry);
      if (meaning.is === "receipt" || meaning.is === "refused") {
        this.#fails = 0;
        this.#stumbles.delete(entry.id);
      } else if (meaning.is === "job unknown") {
        trouble = { is: "try later", why: "The office does not know this job." };
        if (brought.has(entry.job) || !(await this.#bringJob(entry.job))) passed.add(entry.job);
        brought.add(entry.job);
      } else if (meaning.is === "stumbled") {
        trouble = { is: "try later", why: meaning.why };
        if (!this.#oftenEnough(entry)) return trouble;
        passed.add(entry.id);
      } else {
        return meaning;
      }
    }
  }

  async #next(passed) {
    for (const entry of await this.#outbox.waiting()) {
      if (passed.has(entry.id) || passed.has(entry.job)) continue;
      // A photo, or a taking back, goes only once the office has its line.
      if (entry.line === undefined || (await this.#outbox.entry(entry.line))?.receipt) return entry;
    }
    return null;
  }

  /** Before a burst: does the office still hold what it gave receipts for? What it lost goes first again. */
  async #check(job) {
    const last = this.#checked.get(job);
    if (last !== undefined && performance.now() - last < CHECKED_FOR) return null;
    const entries = await this.#outbox.entries(job);
    if (entries.some((entry) => entry.receipt)) {
      const { heard, lost, answer } = await this.#receipts.check(job);
      if (!heard) return stopping(answer);
      if (lost.length > 0) this.#tell({ lost });
    }
    this.#checked.set(job, performance.now());
    return null;
  }

  async #send(entry) {
    await this.#tabs.othersDone(entry.id);
    const fresh = await this.#outbox.entry(entry.id);
    if (fresh?.waits === undefined) return { is: "receipt" };
    this.#tell({ sending: entry.id });
    this.#tabs.say({ sending: entry.id });
    try {
      const meaning = meaningOf(entry, await this.#give(entry));
      if (meaning.is === "receipt") {
        this.#tell({ changed: await this.#outbox.receipted(entry.id, meaning.receipt) });
      } else if (meaning.is === "refused") {
        this.#tell({ changed: await this.#outbox.refused(entry.id, meaning.refusal) });
      }
      return meaning;
    } finally {
      this.#tabs.say({ sent: entry.id });
    }
  }

  async #give(entry) {
    if (entry.kind !== "photo") return this.#office.give(entry);
    return this.#office.givePhoto(entry, await this.#outbox.photoBytes(entry.id));
  }

  /** Starts a job again in an office that does not know it, and lets all it had of the job wait again. */
  async #bringJob(job) {
    const { lost } = await this.#receipts.check(job);
    if (lost.length > 0) this.#tell({ lost });
    const title = await this.#jobs.title(job);
    if (title === null) return false;
    const { from, status } = await this.#office.startJob(job, title);
    return from === "office" && (status === 200 || status === 201);
  }

  #oftenEnough(entry) {
    const count = (this.#stumbles.get(entry.id) ?? 0) + 1;
    this.#stumbles.set(entry.id, count);
    return count >= STUMBLES;
  }
}

/** Why no list of receipts came, as a reason to stop the round. */
function stopping(answer) {
  const meaning = meaningOf({ kind: "line" }, answer);
  if (meaning.is === "paused" || meaning.is === "try later") return meaning;
  return { is: "try later", why: meaning.why ?? "The office gave no list of its receipts." };
}
