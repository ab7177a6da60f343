// Holds the phone's receipts against the office's own list. An office put back from an older copy has lost
// what came since: those entries wait again, in their old order, and go once more under their old ids.

const KINDS = { line: "lines", photo: "photos", "take-back": "taken_back" };

export class Receipts {
  #outbox;
  #office;

  constructor(outbox, office) {
    this.#outbox = outbox;
    this.#office = office;
  }

  /** `{lost, inOffice, answer}`: the entries that wait again, the ids the office shows; null without an answer. */
  async check(job) {
    const mine = (await this.#outbox.entries(job)).filter((entry) => entry.receipt);
    const answer = await this.#office.receipts(job);
    const unknown = answer.from === "office" && answer.status === 404;
    if (!unknown && !(answer.from === "office" && answer.status === 200)) {
      return { lost: [], inOffice: null, answer };
    }
    const inOffice = unknown ? new Map() : shown(answer.body);
    const lost = mine.filter((entry) => isLost(entry, inOffice, answer.body, unknown));
    for (const entry of lost) await this.#outbox.waitAgain(entry.id);
    if (!unknown) for (const { id, kind } of mine) if (kind === "job") inOffice.set(id, undefined);
    return { lost, inOffice, answer };
  }
}

function shown(body) {
  const all = Object.values(KINDS).flatMap((name) => body[name] ?? []);
  return new Map(all.map(({ id, sha256 }) => [id, sha256]));
}

function isLost(entry, inOffice, body, unknown) {
  if (unknown) return true;
  // An office that does not list a kind says nothing of it.
  if (entry.kind === "job" || !Array.isArray(body[KINDS[entry.kind]])) return false;
  if (!inOffice.has(entry.id)) return true;
  return entry.sha256 !== undefined && inOffice.get(entry.id) !== entry.sha256;
}
