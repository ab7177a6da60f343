// Pages of this phone tell one another what they do. Nothing rests on it: a line sent by two of them at once
// is one line in the office, for its id is one.

const TOO_LONG = 25000;
const A_MOMENT = 150;

export class Tabs {
  #channel;
  #sending = new Map();
  #waiting = [];
  #hears = [];

  constructor(name = "gutterance-capture") {
    this.#channel = typeof BroadcastChannel === "function" ? new BroadcastChannel(name) : null;
    if (this.#channel !== null) this.#channel.onmessage = ({ data }) => this.#heard(data);
  }

  say(news) {
    this.#channel?.postMessage(news);
  }

  /** What other pages say from now on goes to `hear`. */
  listen(hear) {
    this.#hears.push(hear);
  }

  /** Resolves once no other page is sending that entry, or has been silent about it for too long. */
  async othersDone(id) {
    const since = this.#sending.get(id);
    if (since === undefined) return;
    const left = TOO_LONG - (performance.now() - since);
    if (left > 0) {
      await new Promise((go) => {
        this.#waiting.push({ id, go });
        setTimeout(go, left);
      });
    }
    this.#sending.delete(id);
  }

  /** The drafts that other open pages are at work on. */
  async draftsOfOthers() {
    const found = new Set();
    const hear = (news) => {
      if (news.myDraft) found.add(news.myDraft);
    };
    this.listen(hear);
    this.say({ whoseDraft: true });
    await new Promise((go) => setTimeout(go, A_MOMENT));
    this.#hears = this.#hears.filter((one) => one !== hear);
    return found;
  }

  #heard(news) {
    if (news.sending) this.#sending.set(news.sending, performance.now());
    if (news.sent) {
      this.#sending.delete(news.sent);
      for (const { id, go } of this.#waiting) if (id === news.sent) go();
      this.#waiting = this.#waiting.filter(({ id }) => id !== news.sent);
    }
    for (const hear of this.#hears) hear(news);
  }
}
