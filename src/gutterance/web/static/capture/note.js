// One walk's note as the phone knows it: its own entries, and what the office last said it understood.

export class Note {
  entries = [];
  heard = null;
  #about = new Map();

  /** Takes over what the phone's store holds of this walk. */
  hold(entries) {
    this.entries = entries;
    this.#about = new Map();
    for (const entry of entries) {
      if (entry.line) this.#about.set(entry.line, [...(this.#about.get(entry.line) ?? []), entry]);
    }
  }

  /** Takes over one entry as it is now. */
  change(changed) {
    this.hold(this.entries.map((entry) => (entry.id === changed.id ? changed : entry)));
  }

  /** The entry that an id is about: a line's own, or the line of a photo or of a taking back. */
  subjectOf(id) {
    const entry = this.entries.find((one) => one.id === id);
    return entry?.line ? this.entries.find((one) => one.id === entry.line) : entry;
  }

  /** How many entries the office has not acknowledged. */
  waiting() {
    return this.entries.filter((entry) => !entry.receipt).length;
  }

  /** Every line and answer, `{entry, takenBack, photos, readBack}`, in the order of the office's numbers. */
  lines() {
    const own = this.entries.filter(({ kind }) => kind === "line" || kind === "answer");
    let place = 0;
    const placed = own.map((entry) => {
      // An answer stands behind the line that it was given after.
      place = entry.kind === "line" ? placeOf(entry) : place + 1e-6;
      return { ...this.line(entry), place };
    });
    const others = this.#elsewhere().map((entry) => ({ ...this.line(entry), place: placeOf(entry) }));
    return [...placed, ...others].sort((one, other) => one.place - other.place);
  }

  line(entry) {
    const about = this.#about.get(entry.id) ?? [];
    return {
      entry,
      takenBack: about.find(({ kind }) => kind === "take-back"),
      photos: about.filter(({ kind }) => kind === "photo"),
      readBack: this.heard?.lines[entry.id],
    };
  }

  /** The answer that was given here to a question which the office still shows as open, or null. */
  answerTo(question) {
    const answers = this.entries.filter((one) => one.kind === "answer" && one.question === question.id);
    const last = answers.at(-1);
    return last && !last.refused && !this.#about.has(last.id) ? last : null;
  }

  /** Lines of the same walk that came from other devices. */
  #elsewhere() {
    const own = new Set(this.entries.map(({ id }) => id));
    const answers = this.entries.filter(({ kind }) => kind === "answer");
    return Object.values(this.heard?.lines ?? {})
      .filter(({ id }) => !own.has(id) && !answers.some((answer) => id.startsWith(`${answer.id}-`)))
      .map(({ id, number, text }) => ({ id, text, elsewhere: true, receipt: { id, number } }));
  }
}

/** Lines in the office by their number there, then what waits, in the order of capture. */
function placeOf({ receipt, seq }) {
  return receipt?.number ?? 1e9 + (seq ?? 0);
}
