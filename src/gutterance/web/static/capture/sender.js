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
    this.#running ??= this.#work();
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
    // At once, with nothing awaited since the last look: a start from here on is a new one.
    this.#running = null;
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

  /** Through all that waits, until nothing is left that could go. */
  async #round() {
    const passed = new Set();
    const brought = new Set();
    let trouble = null;
    for (;;) {
      const waiting = (await this.#outbox.waiting()).filter(({ id, job }) => !passed.has(id) && !passed.has(job));
      let went = 0;
      for (const entry of waiting) {
        const { stop, anew, later } = await this.#one(entry, passed, brought);
        if (stop) return stop;
        trouble = later ?? trouble;
        went += 1;
        // What goes first is another now: the office lost some, or a job had to be started there again.
        if (anew) break;
      }
      if (went === 0) return trouble ?? { is: "done" };
    }
  }

  /**
   * Sends one entry: `stop` ends the round, `anew` asks for what waits to be looked up again, `later` is a
   * trouble with this entry, or its job, alone. What cannot go now holds up those behind it only where it must.
   */
  async #one(entry, passed, brought) {
    if (!(await this.#isReady(entry))) {
      passed.add(entry.id);
      return {};
    }
    const { stop, lost } = await this.#check(entry.job);
    if (stop || lost) return { stop, anew: lost };
    const meaning = await this.#send(entry);
    if (meaning.is === "receipt" || meaning.is === "refused") {
      this.#fails = 0;
      this.#stumbles.delete(entry.id);
      // A photo takes its time on a weak signal: words said meanwhile go before the next one.
      return { anew: entry.kind === "photo" };
    }
    if (meaning.is === "job unknown") {
      if (!brought.has(entry.job) && (await this.#bringJob(entry.job))) {
        brought.add(entry.job);
        return { anew: true };
      }
      // The job is there: what it has not is the question, or what was to be taken back.
      if (brought.has(entry.job) && entry.kind !== "line") {
        this.#tell({ changed: await this.#outbox.refused(entry.id, meaning.refusal) });
        return {};
      }
      passed.add(entry.job);
      return { anew: true, later: { is: "try later", why: "The office does not know this job." } };
    }
    if (meaning.is === "stumbled") {
      const later = { is: "try later", why: meaning.why };
      if (!this.#oftenEnough(entry)) return { stop: later };
      passed.add(entry.id);
      return { later };
    }
    return { stop: meaning };
  }

  /** A photo, or a taking back, goes only once the office has its line. */
  async #isReady({ line }) {
    return line === undefined || Boolean((await this.#outbox.entry(line))?.receipt);
  }

  /** Before a burst: does the office still hold what it gave receipts for? What it lost goes first again. */
  async #check(job) {
    const last = this.#checked.get(job);
    if (last !== undefined && performance.now() - last < CHECKED_FOR) return {};
    const entries = await this.#outbox.entries(job);
    let lost = [];
    if (entries.some((entry) => entry.receipt)) {
      const { heard, lost: missing, answer } = await this.#receipts.check(job);
      if (!heard) return { stop: stopping(answer) };
      lost = missing;
    }
    this.#checked.set(job, performance.now());
    if (lost.length > 0) this.#tell({ lost });
    return { lost: lost.length > 0 };
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
    if (title === null) return (await this.#office.job(job)).status === 200;
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
