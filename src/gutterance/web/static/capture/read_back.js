// What the office understood, as last heard: kept on the phone, so that it can be read with no signal too.

import { asked } from "./keeping.js";

export class ReadBack {
  #keeping;
  #office;

  constructor(keeping, office) {
    this.#keeping = keeping;
    this.#office = office;
  }

  /** `{revision, heardAt, lines: {id: line}, questions, counts}` as last heard, or null. */
  async last(job) {
    const name = `read-back ${job}`;
    return (await this.#keeping.readOr(null, ["facts"], ({ facts }) => asked(facts.get(name)))) ?? null;
  }

  /** Asks anew; null where the office does not answer. What one line says may change what others say. */
  async ask(job) {
    const { from, status, body } = await this.#office.readBack(job);
    if (from !== "office" || status !== 200 || !Array.isArray(body.lines)) return null;
    const heard = {
      revision: body.revision,
      heardAt: new Date().toISOString(),
      lines: Object.fromEntries(body.lines.map((line) => [line.id, line])),
      questions: body.questions,
      counts: body.counts,
    };
    try {
      await this.#keeping.write(["facts"], ({ facts }) => asked(facts.put(heard, `read-back ${job}`)), {
        durability: "relaxed",
      });
    } catch {
      // A phone with no room left can still show it.
    }
    return heard;
  }
}
