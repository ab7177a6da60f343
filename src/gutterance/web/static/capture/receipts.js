// Holds the phone's receipts against the office's own list. An office put back from an older copy has lost
// what came since: those entries wait again, in their old order, and go once more under their old ids.

export class Receipts {
  #outbox;
  #office;

  constructor(outbox, office) {
    this.#outbox = outbox;
    this.#office = office;
  }

  /** `{heard, lost, answer}`: whether the office answered, the entries that wait again, what it said. */
  async check(job) {
    const mine = await this.#outbox.entries(job);
    const answer = await this.#office.receipts(job);
    const photos = mine.some(isSentPhoto) ? await this.#office.photos(job) : { ...answer, body: { photos: [] } };
    for (const one of [answer, photos]) {
      if (one.from !== "office" || (one.status !== 200 && one.status !== 404)) {
        return { heard: false, lost: [], answer: one };
      }
    }
    const known = answer.status === 200 && photos.status === 200;
    const shown = { ...answer.body, ...photos.body };
    const lost = mine.filter((entry) => entry.receipt && (!known || isLost(entry, shown)));
    for (const entry of lost) await this.#outbox.waitAgain(entry.id);
    return { heard: true, lost, answer };
  }
}

function isSentPhoto({ kind, receipt }) {
  return kind === "photo" && Boolean(receipt);
}

function isLost(entry, { receipts, photos }) {
  const line = receipts.find(({ id }) => id === (entry.kind === "line" ? entry.id : entry.line));
  if (entry.kind === "line") return line?.sha256 !== entry.sha256;
  if (entry.kind === "take-back") return line !== undefined && !line.taken_back_at;
  if (entry.kind === "photo") return photos.find(({ id }) => id === entry.id)?.sha256 !== entry.sha256;
  return false;
}
