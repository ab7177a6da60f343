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
    const photos = mine.some(isSent("photo")) ? await this.#office.photos(job) : { ...answer, body: { photos: [] } };
    const history = mine.some(isSent("answer")) ? await this.#office.history(job) : { ...answer, body: { events: [] } };
    for (const one of [answer, photos, history]) {
      if (one.from !== "office" || (one.status !== 200 && one.status !== 404)) {
        return { heard: false, lost: [], answer: one };
      }
    }
    const known = [answer, photos, history].every(({ status }) => status === 200);
    const shown = { ...answer.body, photos: photos.body.photos, events: history.body.events };
    const lost = mine.filter((entry) => entry.receipt && (!known || isLost(entry, shown)));
    for (const entry of lost) await this.#outbox.waitAgain(entry.id);
    return { heard: true, lost, answer };
  }
}

function isSent(wanted) {
  return ({ kind, receipt }) => kind === wanted && Boolean(receipt);
}

function isLost(entry, { receipts, photos, events }) {
  const line = receipts.find(({ id }) => id === (entry.kind === "line" ? entry.id : entry.line));
  if (entry.kind === "line") return line?.sha256 !== entry.sha256;
  if (entry.kind === "take-back" && entry.of !== "answer") return line !== undefined && !line.taken_back_at;
  if (entry.kind === "photo") return photos.find(({ id }) => id === entry.id)?.sha256 !== entry.sha256;
  // An answer is kept as events, or as a line, under ids that begin with its own.
  if (entry.kind === "answer") return ![...events, ...receipts].some(({ id }) => id.startsWith(`${entry.id}-`));
  return false;
}
