// The phone's own database. Every write is finished on disk before its promise is kept; a connection that
// the system closed behind our back is opened again, and what failed is done once more.

const NAME = "gutterance-capture";

// Each step takes the database one version up, and may only add: a page of an older version that is still
// open in another tab goes on keeping lines in the same database.
const STEPS = [
  (database) => {
    const entries = database.createObjectStore("entries", { keyPath: "seq", autoIncrement: true });
    entries.createIndex("id", "id", { unique: true });
    entries.createIndex("job", "job");
    entries.createIndex("waits", "waits");
    database.createObjectStore("photo_bytes");
    database.createObjectStore("jobs", { keyPath: "id" });
    database.createObjectStore("drafts", { keyPath: "id" });
    database.createObjectStore("facts");
  },
];

/** A write that did not happen, with `full` where the phone has no room left. */
export class NotKept extends Error {
  constructor(cause) {
    const full = cause?.name === "QuotaExceededError";
    super(full ? "This phone is full." : "This phone's store could not be written.", { cause });
    this.full = full;
  }
}

export class Keeping {
  #opening = null;

  /** Does `work(stores)` in one transaction that may write; what it returns is given once all is on disk. */
  async write(names, work, { durability = "strict" } = {}) {
    try {
      return await this.#twice(names, "readwrite", work, durability);
    } catch (fault) {
      throw fault instanceof NotKept || fault?.name === "ConstraintError" ? fault : new NotKept(fault);
    }
  }

  /** Does `work(stores)` in one transaction that only reads. */
  read(names, work) {
    return this.#twice(names, "readonly", work, "default");
  }

  /** The same, or `otherwise` where the store cannot be read: for what only makes the page richer. */
  async readOr(otherwise, names, work) {
    try {
      return await this.read(names, work);
    } catch {
      return otherwise;
    }
  }

  async #twice(names, mode, work, durability) {
    try {
      return await this.#once(names, mode, work, durability);
    } catch (fault) {
      if (fault?.name === "QuotaExceededError" || fault?.name === "ConstraintError") throw fault;
      await this.#forget();
      return this.#once(names, mode, work, durability);
    }
  }

  async #once(names, mode, work, durability) {
    const database = await this.#open();
    const transaction = database.transaction(names, mode, { durability });
    const finished = new Promise((resolve, reject) => {
      transaction.oncomplete = resolve;
      transaction.onabort = () => reject(transaction.error ?? new DOMException("aborted", "AbortError"));
    });
    finished.catch(() => {});
    const stores = Object.fromEntries(names.map((name) => [name, transaction.objectStore(name)]));
    let result;
    try {
      result = await work(stores);
    } catch (fault) {
      try {
        transaction.abort();
      } catch {
        // It had ended by itself.
      }
      throw transaction.error ?? fault;
    }
    await finished;
    return result;
  }

  #open() {
    this.#opening ??= openDatabase(STEPS.length).then(
      (database) => {
        database.onclose = () => this.#drop(database);
        database.onversionchange = () => {
          database.close();
          this.#drop(database);
        };
        return database;
      },
      (fault) => {
        this.#opening = null;
        throw fault;
      },
    );
    return this.#opening;
  }

  #drop() {
    this.#opening = null;
  }

  async #forget() {
    const opening = this.#opening;
    this.#opening = null;
    try {
      (await opening)?.close();
    } catch {
      // It never opened.
    }
  }
}

/** The answer to one request of a transaction. */
export function asked(request) {
  return new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

function openDatabase(version) {
  return new Promise((resolve, reject) => {
    // Without a version: whatever there is, for a page older than the database.
    const request = version === null ? indexedDB.open(NAME) : indexedDB.open(NAME, version);
    request.onupgradeneeded = ({ oldVersion }) => {
      for (const step of STEPS.slice(oldVersion)) step(request.result, request.transaction);
    };
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => {
      if (request.error?.name === "VersionError" && version !== null) openDatabase(null).then(resolve, reject);
      else reject(request.error);
    };
  });
}
