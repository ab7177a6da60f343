// Talks with the office. What comes back is the office's own answer (an object in JSON), something else's (a
// login page of the network, a proxy's error), or silence. Only the first is ever acted upon.

const WORDS_TIME = 20000;
const PHOTO_TIME = 180000;

export class Office {
  #times;

  constructor({ words = WORDS_TIME, photo = PHOTO_TIME } = {}) {
    this.#times = { words, photo };
  }

  /** What the office says to one entry of the outbox. */
  give(entry) {
    const job = encodeURIComponent(entry.job);
    const line = encodeURIComponent(entry.line ?? "");
    if (entry.kind === "job") return this.#post("/api/jobs", { id: entry.id, title: entry.title });
    if (entry.kind === "take-back") {
      const what = entry.of === "answer" ? "answers" : "lines";
      return this.#post(`/api/jobs/${job}/${what}/${line}/take-back`, { id: entry.id });
    }
    if (entry.kind === "answer") return this.#post(`/api/jobs/${job}/answers`, answerOf(entry));
    const { id, text, sha256, after, at } = entry;
    return this.#post(`/api/jobs/${job}/lines`, { id, text, sha256, captured_at: at, after });
  }

  givePhoto({ id, job, line, sha256, type }, bytes) {
    const where = new URLSearchParams({ id, line, sha256 });
    return this.#asked(`/api/jobs/${encodeURIComponent(job)}/photos?${where}`, this.#times.photo, {
      method: "POST",
      headers: { "Content-Type": type, "X-Gutterance": "1" },
      body: bytes,
    });
  }

  startJob(id, title) {
    return this.#post("/api/jobs", { id, title });
  }

  jobs() {
    return this.#get("/api/jobs?archived=false");
  }

  job(job) {
    return this.#get(`/api/jobs/${encodeURIComponent(job)}`);
  }

  receipts(job) {
    return this.#get(`/api/jobs/${encodeURIComponent(job)}/receipts`);
  }

  photos(job) {
    return this.#get(`/api/jobs/${encodeURIComponent(job)}/photos`);
  }

  history(job) {
    return this.#get(`/api/jobs/${encodeURIComponent(job)}/history`);
  }

  readBack(job) {
    return this.#get(`/api/jobs/${encodeURIComponent(job)}/read-back`);
  }

  #get(path) {
    return this.#asked(path, this.#times.words, {});
  }

  #post(path, body) {
    return this.#asked(path, this.#times.words, {
      method: "POST",
      headers: { "Content-Type": "application/json", "X-Gutterance": "1" },
      body: JSON.stringify(body),
    });
  }

  async #asked(path, time, options) {
    const patience = new AbortController();
    const timer = setTimeout(() => patience.abort(), time);
    try {
      const response = await fetch(path, {
        ...options,
        cache: "no-store",
        credentials: "same-origin",
        redirect: "manual",
        signal: patience.signal,
      });
      const status = response.status;
      const later = Number(response.headers.get("Retry-After")) || null;
      const body = isJson(response) ? await response.json().catch(() => null) : null;
      if (body === null || typeof body !== "object") return { from: "something else", status, later };
      return { from: "office", status, body, later };
    } catch {
      return { from: "nobody", status: 0, timedOut: patience.signal.aborted };
    } finally {
      clearTimeout(timer);
    }
  }
}

function answerOf({ id, question, offer, says, about, revision }) {
  return { id, question, about, revision, ...(offer === null ? { value: says } : { offer }) };
}

function isJson(response) {
  return /^application\/(.+\+)?json\b/.test(response.headers.get("Content-Type") ?? "");
}
