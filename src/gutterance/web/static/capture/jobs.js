// The jobs this phone knows by title: started here, or told by the office.

import { asked } from "./keeping.js";

export class Jobs {
  #keeping;

  constructor(keeping) {
    this.#keeping = keeping;
  }

  all() {
    return this.#keeping.readOr([], ["jobs"], ({ jobs }) => asked(jobs.getAll()));
  }

  async title(job) {
    const known = await this.#keeping.readOr(null, ["jobs"], ({ jobs }) => asked(jobs.get(job)));
    return known?.title ?? null;
  }

  remember(id, title) {
    return this.#keeping.write(["jobs"], async ({ jobs }) => {
      const known = await asked(jobs.get(id));
      if (known?.title !== title) await asked(jobs.put({ ...known, id, title }));
    });
  }
}
