// What is being typed, saved at every burst under a draft id of this page and walk, so that a page which dies
// takes no words with it. Drafts of pages that are gone are offered openly.

import { newId } from "./ids.js";
import { asked } from "./keeping.js";

const OWN = "gutterance-draft";

export class Drafts {
  #keeping;
  #wanted = new Map();
  #writing = null;
  #job = null;
  id = null;

  constructor(keeping) {
    this.#keeping = keeping;
  }

  /** Turns to a walk; gives this page's own draft of it, from before it was left or loaded again, or null. */
  async turnTo(job) {
    this.#job = job;
    this.id = ownId(job);
    const draft = await this.#keeping.readOr(null, ["drafts"], ({ drafts }) => asked(drafts.get(this.id)));
    return draft ?? null;
  }

  /** Saves the newest text; bursts quicker than the disk are joined. Resolves when that text is down. */
  save(text) {
    this.#wanted.set(this.id, { id: this.id, job: this.#job, text, at: new Date().toISOString() });
    this.#writing ??= this.#writeNewest();
    return this.#writing;
  }

  async #writeNewest() {
    try {
      while (this.#wanted.size > 0) {
        const [draft] = this.#wanted.values();
        this.#wanted.delete(draft.id);
        await this.#keeping.write(
          ["drafts"],
          ({ drafts }) => asked(draft.text.trim() === "" ? drafts.delete(draft.id) : drafts.put(draft)),
          { durability: "relaxed" },
        );
      }
    } finally {
      this.#writing = null;
    }
  }

  /** Waits for what is being saved, so that it cannot come back after its lines are kept. */
  async settled() {
    this.#wanted.delete(this.id);
    try {
      await this.#writing;
    } catch {
      // The line itself is about to be kept, or to say why not.
    }
  }

  /** A line was kept: what is typed next is a draft of its own. */
  startAnew() {
    this.id = ownId(this.#job, { fresh: true });
  }

  all() {
    return this.#keeping.readOr([], ["drafts"], ({ drafts }) => asked(drafts.getAll()));
  }

  throwAway(id) {
    return this.#keeping.write(["drafts"], ({ drafts }) => asked(drafts.delete(id)));
  }
}

function ownId(job, { fresh = false } = {}) {
  try {
    const kept = fresh ? null : sessionStorage.getItem(`${OWN} ${job}`);
    const id = kept ?? newId();
    sessionStorage.setItem(`${OWN} ${job}`, id);
    return id;
  } catch {
    return newId();
  }
}
