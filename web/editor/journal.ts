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
  /** Keeps these steps in place of the last ones; null when all are stored. */
  keep(k: Kept | null): void;
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

  constructor(readonly plan: string) {
    this.#key = `${plan} ${crypto.randomUUID()}`;
    this.#db = open().catch(() => null);
    // Held as long as the tab lives: a journal whose lock is free is a dead tab's.
    void navigator.locks?.request(this.#key, () => new Promise<void>(() => {}));
  }

  keep(k: Kept | null): void {
    if (k === null && this.#empty) return;
    this.#empty = k === null;
    this.#writing = this.#writing.then(() => this.#write(k)).catch(() => {});
  }

  async #write(k: Kept | null): Promise<void> {
    const db = await this.#db;
    if (!db) return;
    const all = db.transaction(store, "readwrite").objectStore(store);
    if (k) await settled(all.put(k, this.#key));
    else await settled(all.delete(this.#key));
  }

  /** Takes what dead tabs left of this plan, oldest key first; it is gone from the journal. */
  async left(): Promise<Kept[]> {
    const db = await this.#db;
    if (!db || !navigator.locks) return [];
    const alive = new Set(((await navigator.locks.query()).held ?? []).map((l) => l.name));
    const keys = await settled(db.transaction(store).objectStore(store).getAllKeys());
    const dead = keys.filter((k) => String(k).startsWith(`${this.plan} `) && !alive.has(String(k)));
    const all = db.transaction(store, "readwrite").objectStore(store);
    const found = await Promise.all(dead.map((k) => settled(all.get(k) as IDBRequest<Kept>)));
    for (const k of dead) all.delete(k);
    return found;
  }
}
