// What was captured, in order, until the office has it and longer: an entry is a job started here, a line, an
// answer to a question, the taking back of either, or a photo. An entry is never changed; only its receipt, or the office's
// refusal, is written beside it. It waits (`waits` names its job) until either is there.

import { newId } from "./ids.js";
import { asked } from "./keeping.js";
import { sha256OfText } from "./sha256.js";

export const LONGEST_LINE = 10000;

/** What stands in the box, as lines to keep: blank ones left out, nothing else touched. */
export function linesOf(text) {
  return text.split(/\r\n|\r|\n/).filter((line) => line.trim() !== "");
}

export class Outbox {
  #keeping;
  // Receipts that a full phone had no room to write: they hold while this page is open, and are asked for anew after.
  #inHand = new Map();

  constructor(keeping) {
    this.#keeping = keeping;
  }

  /** Keeps lines of a job, in order, and lets go of the draft they were typed as, in one transaction. */
  async addLines(job, texts, draft = null) {
    const at = new Date().toISOString();
    const made = texts.map((given) => {
      const text = wellFormed(given);
      return { id: newId(), kind: "line", job, at, text, sha256: sha256OfText(text) };
    });
    await this.#keeping.write(["entries", "drafts"], async ({ entries, drafts }) => {
      let after = await lastLine(entries, job);
      for (const line of made) {
        await added(entries, { ...line, after, waits: job });
        after = line.id;
      }
      if (draft !== null) drafts.delete(draft);
    });
    return made.map((line) => line.id);
  }

  /** Starts a job on this phone, so that a walk can begin with no signal. */
  async startJob(title) {
    const job = { id: newId(), title: wellFormed(title), at: new Date().toISOString() };
    await this.#keeping.write(["entries", "jobs"], async ({ entries, jobs }) => {
      jobs.put(job);
      await added(entries, { ...job, kind: "job", job: job.id, waits: job.id });
    });
    return job.id;
  }

  /** Answers a question of a read-back, by one of its offers (a number from 1) or in words. */
  async addAnswer(job, question, revision, { offer = null, says }, draft = null) {
    const { id: asked, asks, about } = question;
    const given = { question: asked, asks, about, revision, offer, says: wellFormed(says) };
    const answer = { id: newId(), kind: "answer", job, at: new Date().toISOString(), ...given };
    await this.#keeping.write(["entries", "drafts"], async ({ entries, drafts }) => {
      await added(entries, { ...answer, waits: job });
      if (draft !== null) drafts.delete(draft);
    });
  }

  /** Takes a line, or an answer, back: it stays as evidence, and the office hears that it no longer counts. */
  async takeBack(line) {
    const id = newId();
    await this.#keeping.write(["entries"], async ({ entries }) => {
      const { job, kind } = await asked(entries.index("id").get(line));
      const at = new Date().toISOString();
      await added(entries, { id, kind: "take-back", of: kind, job, line, at, waits: job });
    });
    return id;
  }

  async addPhoto(line, { bytes, type, sha256 }) {
    const id = newId();
    await this.#keeping.write(["entries", "photo_bytes"], async (stores) => {
      const { job } = await asked(stores.entries.index("id").get(line));
      stores.photo_bytes.put(bytes, id);
      const at = new Date().toISOString();
      const photo = { id, kind: "photo", job, line, at, type, sha256, size: bytes.byteLength, waits: job };
      await added(stores.entries, photo);
    });
    return id;
  }

  /** Every entry of a job, or of all, in the order of capture. */
  async entries(job = null) {
    const all = await this.#keeping.read(["entries"], ({ entries }) =>
      asked(job === null ? entries.getAll() : entries.index("job").getAll(job)),
    );
    return all.map((entry) => this.#asKnown(entry));
  }

  async entry(id) {
    const entry = await this.#keeping.read(["entries"], ({ entries }) => asked(entries.index("id").get(id)));
    return entry && this.#asKnown(entry);
  }

  #asKnown(entry) {
    const receipt = entry.receipt ? undefined : this.#inHand.get(entry.id);
    return receipt ? { ...entry, receipt, waits: undefined } : entry;
  }

  photoBytes(id) {
    return this.#keeping.read(["photo_bytes"], ({ photo_bytes }) => asked(photo_bytes.get(id)));
  }

  /** What waits, words before photos, each kind in the order of capture. */
  async waiting() {
    const found = await this.#keeping.read(["entries"], ({ entries }) => asked(entries.index("waits").getAll()));
    const all = found.filter(({ id }) => !this.#inHand.has(id));
    all.sort((one, other) => one.seq - other.seq);
    return [...all.filter((one) => one.kind !== "photo"), ...all.filter((one) => one.kind === "photo")];
  }

  /** Writes the office's receipt beside an entry. A receipt for another id or other content is none. */
  async receipted(id, receipt) {
    try {
      return await this.#noted(id, (entry) => {
        if (!isReceiptFor(entry, receipt)) throw new Error(`not a receipt for ${id}`);
        entry.receipt = receipt;
        delete entry.refused;
        delete entry.waits;
      });
    } catch (fault) {
      if (!fault.full) throw fault;
      this.#inHand.set(id, receipt);
      return this.entry(id);
    }
  }

  /** Sets an entry aside that the office itself refused: it stays here, and lets those behind it pass. */
  refused(id, refusal) {
    return this.#noted(id, (entry) => {
      entry.refused = refusal;
      delete entry.waits;
    });
  }

  /** Lets refused entries wait again, but for those that would be refused for ever: an id with other words, an answer. */
  async tryRefusedAgain({ photos = true } = {}) {
    const all = await this.entries();
    const again = all.filter((one) => one.refused && !one.refused.clash && one.kind !== "answer" && (photos || one.kind !== "photo"));
    for (const { id } of again) await this.waitAgain(id);
    return again.length;
  }

  /** Takes a receipt away that the office no longer stands by; the entry is sent once more, as it was. */
  waitAgain(id) {
    this.#inHand.delete(id);
    return this.#noted(id, (entry) => {
      if (entry.receipt) entry.lost = [...(entry.lost ?? []), entry.receipt];
      delete entry.receipt;
      delete entry.refused;
      entry.waits = entry.job;
    });
  }

  /** Puts entries back from a file of this phone or another. What is here already is left as it is. */
  async putBack(given, photoBytes, drafts) {
    let count = 0;
    await this.#keeping.write(["entries", "photo_bytes", "jobs", "drafts"], async (stores) => {
      for (const draft of drafts) {
        if (!(await asked(stores.drafts.getKey(draft.id)))) stores.drafts.put(draft);
      }
      for (const { seq: _, ...entry } of given) {
        if (await asked(stores.entries.index("id").getKey(entry.id))) continue;
        if (entry.kind === "photo") stores.photo_bytes.put(photoBytes.get(entry.id), entry.id);
        if (entry.kind === "job") stores.jobs.put({ id: entry.id, title: entry.title, at: entry.at });
        await added(stores.entries, entry);
        count += 1;
      }
    });
    return count;
  }

  /** Lets go of a job, after a check of its receipts: refused while one entry has none. */
  async letGo(job) {
    await this.#keeping.write(["entries", "photo_bytes", "jobs", "facts"], async (stores) => {
      const all = await asked(stores.entries.index("job").getAll(job));
      if (!all.every((one) => one.receipt)) throw new Error("Not all of this walk is in the office yet.");
      for (const one of all) {
        stores.entries.delete(one.seq);
        stores.photo_bytes.delete(one.id);
      }
      stores.jobs.delete(job);
      stores.facts.delete(`read-back ${job}`);
    });
  }

  #noted(id, change) {
    return this.#keeping.write(["entries"], async ({ entries }) => {
      const entry = await asked(entries.index("id").get(id));
      if (entry === undefined) return null;
      change(entry);
      await asked(entries.put(entry));
      return entry;
    });
  }
}

/** Whether this is the office's receipt for that very entry. */
export function isReceiptFor(entry, receipt) {
  if (receipt === null || typeof receipt !== "object" || receipt.id !== entry.id) return false;
  return entry.sha256 === undefined || receipt.sha256 === entry.sha256;
}

async function added(entries, entry) {
  // A write that was done again may find its first try there.
  const there = await asked(entries.index("id").get(entry.id));
  if (there === undefined) await asked(entries.add(entry));
}

async function lastLine(entries, job) {
  const backwards = entries.index("job").openCursor(job, "prev");
  return new Promise((resolve, reject) => {
    backwards.onerror = () => reject(backwards.error);
    backwards.onsuccess = () => {
      const cursor = backwards.result;
      if (cursor === null) resolve(null);
      else if (cursor.value.kind === "line") resolve(cursor.value.id);
      else cursor.continue();
    };
  });
}

/** Half an emoji cannot be written as UTF-8: it is written as the sign for an unknown character. */
function wellFormed(text) {
  return text.replace(/[\ud800-\udbff][\udc00-\udfff]|[\ud800-\udfff]/g, (found) =>
    found.length === 2 ? found : "\ufffd",
  );
}
