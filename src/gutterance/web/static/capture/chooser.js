// Which walk: those on this phone, then those of the office, and a form to start one with or without a signal.

import { counted, make, symbol } from "./elements.js";

const byId = (id) => document.getElementById(id);

export class Chooser {
  #parts;

  /** `go(job)` opens a walk. */
  constructor(parts, go) {
    this.#parts = parts;
    this.go = go;
    byId("start").addEventListener("submit", async (event) => {
      event.preventDefault();
      const title = byId("start-title").value.trim();
      if (title === "") return;
      try {
        const job = await parts.outbox.startJob(title);
        byId("start-title").value = "";
        parts.sender.start();
        go(job);
      } catch (fault) {
        parts.warn(`Not started. ${fault.message}`);
      }
    });
  }

  async show(open) {
    byId("chooser").hidden = !open;
    if (!open) return;
    document.title = "Walks";
    const entries = await this.#parts.outbox.entries().catch(() => []);
    const here = (await this.#parts.jobs.all()).map(({ id, title }) => ({ id, title, state: null }));
    this.#list(here, entries);
    byId("walks-said").textContent = "Asking the office ...";
    const { from, status, body } = await this.#parts.office.jobs();
    if (byId("chooser").hidden) return;
    if (from !== "office" || status !== 200) {
      byId("walks-said").textContent = "The office cannot be reached: these are the walks this phone knows.";
      return;
    }
    byId("walks-said").textContent = "";
    const known = new Map([...here, ...body.jobs].map((job) => [job.id, job]));
    this.#list([...known.values()], entries);
  }

  #list(jobs, entries) {
    byId("walks").replaceChildren(
      ...jobs.map(({ id, title, state }) => {
        const waiting = entries.filter((entry) => entry.job === id && !entry.receipt).length;
        const link = make("a", { href: `/jobs/${encodeURIComponent(id)}/capture` }, title);
        link.addEventListener("click", (event) => {
          event.preventDefault();
          this.go(id);
        });
        const standing = waiting
          ? make("span", { class: "state" }, symbol("phone"), `${counted(waiting, "entry", "entries")} on this phone only`)
          : make("span", { class: "state" }, state ?? "");
        return make("li", {}, link, standing);
      }),
    );
  }
}
