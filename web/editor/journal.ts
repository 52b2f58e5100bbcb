// Steps not stored yet, kept in the browser as well, so that a tab that dies
// while the server is away loses none of them.

import type { Patch, Plan } from "./model";

/** What a tab had not stored: the revision it was made on, the steps, and the plan with them. */
export interface Kept {
  rev: number;
  doc: Plan;
  steps: { label: string; patch: Patch }[];
}

export interface Journal {
  /** Keeps these steps in place of the last ones; null when all are stored. Resolves when they are kept, rejects when the browser refuses. */
  keep(k: Kept | null): Promise<void>;
}

/** What a dead tab left, until it is forgotten. */
export interface Left {
  kept: Kept;
  forget(): Promise<void>;
}

const store = "unsent";

function open(): Promise<IDBDatabase> {
  const asked = indexedDB.open("evenfall", 1);
  asked.onupgradeneeded = () => asked.result.createObjectStore(store);
  return settled(asked);
}

function settled<T>(r: IDBRequest<T>): Promise<T> {
  return new Promise((ok, no) => {
    r.onsuccess = () => ok(r.result);
    r.onerror = () => no(r.error);
  });
}

/** The journal of one tab on one plan. A browser without a database has none: the tab alone holds the steps. */
export class TabJournal implements Journal {
  readonly #key: string;
  readonly #db: Promise<IDBDatabase | null>;
  #writing: Promise<void> = Promise.resolve();
  #empty = true;

  /** strict: a step is told to be kept only once it is on the disk, at the price of waiting for that. */
  constructor(
    readonly plan: string,
    readonly durability: "relaxed" | "strict" = "relaxed",
  ) {
    this.#key = `${plan} ${crypto.randomUUID()}`;
    this.#db = open().catch(() => null);
    // Held as long as the tab lives: a journal whose lock is free is a dead tab's.
    void navigator.locks?.request(this.#key, () => new Promise<void>(() => {}));
  }

  keep(k: Kept | null): Promise<void> {
    if (k !== null || !this.#empty) {
      this.#empty = k === null;
      const written = this.#writing.then(() => this.#write(this.#key, k));
      this.#writing = written.catch(() => {}); // the next write is tried all the same
      return written;
    }
    return this.#writing;
  }

  async #write(key: string, k: Kept | null): Promise<void> {
    const db = await this.#db;
    if (!db) return;
    const change = db.transaction(store, "readwrite", { durability: this.durability });
    if (k) change.objectStore(store).put(k, key);
    else change.objectStore(store).delete(key);
    await new Promise<void>((ok, no) => {
      change.oncomplete = () => ok();
      change.onerror = change.onabort = () => no(change.error);
    });
  }

  /** Takes up what dead tabs left of this plan, oldest key first. It stays in the journal until it is forgotten. */
  async left(): Promise<Left[]> {
    const db = await this.#db;
    if (!db || !navigator.locks) return [];
    const keys = await settled(db.transaction(store).objectStore(store).getAllKeys());
    const found: Left[] = [];
    for (const key of keys.map(String)) {
      if (key === this.#key || !key.startsWith(`${this.plan} `) || !(await claim(key))) continue;
      const kept = await settled(
        db.transaction(store).objectStore(store).get(key) as IDBRequest<Kept | undefined>,
      );
      if (kept) found.push({ kept, forget: () => this.#writing.then(() => this.#write(key, null)) });
    }
    return found;
  }
}

/** Takes a dead tab's lock, so that no other tab takes up the same; false while a tab holds it. */
function claim(key: string): Promise<boolean> {
  return new Promise((told) => {
    void navigator.locks.request(key, { ifAvailable: true }, (lock) => {
      told(lock !== null);
      return lock ? new Promise<void>(() => {}) : undefined;
    });
  });
}
