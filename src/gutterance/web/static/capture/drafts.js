// What is being typed, saved at every burst under the page's own draft id, so that a page which dies takes
// no words with it. Drafts of pages that are gone are offered openly.

import { newId } from "./ids.js";
import { asked } from "./keeping.js";

const OWN = "gutterance-draft";

export class Drafts {
  #keeping;
  #wanted = null;
  #writing = null;

  constructor(keeping) {
    this.#keeping = keeping;
    this.id = ownId();
  }

  /** Saves the newest text; bursts quicker than the disk are joined. Resolves when that text is down. */
  save(job, text) {
    this.#wanted = { id: this.id, job, text, at: new Date().toISOString() };
    this.#writing ??= this.#writeNewest().finally(() => {
      this.#writing = null;
    });
    return this.#writing;
  }

  async #writeNewest() {
    while (this.#wanted !== null) {
      const draft = this.#wanted;
      this.#wanted = null;
      await this.#keeping.write(
        ["drafts"],
        ({ drafts }) => asked(draft.text.trim() === "" ? drafts.delete(draft.id) : drafts.put(draft)),
        { durability: "relaxed" },
      );
    }
  }

  /** Waits for what is being saved, so that it cannot come back after its lines are kept. */
  async settled() {
    this.#wanted = null;
    try {
      await this.#writing;
    } catch {
      // The line itself is about to be kept, or to say why not.
    }
  }

  /** A line was kept: what is typed next is a draft of its own. */
  startAnew() {
    this.id = ownId({ fresh: true });
  }

  /** This page's own draft, from before it was loaded again. */
  own(job) {
    return this.#keeping.readOr(null, ["drafts"], async ({ drafts }) => {
      const draft = await asked(drafts.get(this.id));
      return draft?.job === job ? draft : null;
    });
  }

  all() {
    return this.#keeping.readOr([], ["drafts"], ({ drafts }) => asked(drafts.getAll()));
  }

  throwAway(id) {
    return this.#keeping.write(["drafts"], ({ drafts }) => asked(drafts.delete(id)));
  }
}

function ownId({ fresh = false } = {}) {
  try {
    const kept = fresh ? null : sessionStorage.getItem(OWN);
    const id = kept ?? newId();
    sessionStorage.setItem(OWN, id);
    return id;
  } catch {
    return newId();
  }
}
