// What stands in a field and is not taken yet, kept in the browser with every key that
// is pressed, and photographs on their way: a battery that dies loses neither.

/** A field half filled in. */
export interface Typed {
  readonly text: string;
  /** In a sentence: "static pressure of zone 3". */
  readonly what: string;
  /** Where on the page, as its address has it after #. */
  readonly where: string;
}

/** A photograph that the server does not have yet. */
export interface Waiting {
  readonly id: string;
  readonly picture: Blob;
  readonly about: string;
  readonly on: string;
  readonly width_px: number;
  readonly height_px: number;
}

/** What the page keeps of one plan. */
export interface Keeper {
  typed(): Promise<ReadonlyMap<string, Typed>>;
  /** null: it is taken, or given up. */
  keepTyped(field: string, t: Typed | null): Promise<void>;
  waiting(): Promise<readonly Waiting[]>;
  keepPhoto(id: string, w: Waiting | null): Promise<void>;
}

const stores = ["typed", "photos"] as const;
type StoreName = (typeof stores)[number];

function settled<T>(r: IDBRequest<T>): Promise<T> {
  return new Promise((ok, no) => {
    r.onsuccess = () => ok(r.result);
    r.onerror = () => no(r.error);
  });
}

/** Keeps them in the browser's database; a browser without one keeps nothing beyond the page. */
export class BrowserKeeper implements Keeper {
  readonly #db: Promise<IDBDatabase | null>;

  constructor(readonly plan: string) {
    this.#db = this.#open().catch(() => null);
  }

  #open(): Promise<IDBDatabase> {
    const asked = indexedDB.open("evenfall-yard", 1);
    asked.onupgradeneeded = () => {
      for (const s of stores) asked.result.createObjectStore(s);
    };
    return settled(asked);
  }

  async #all<T>(name: StoreName): Promise<Map<string, T>> {
    const db = await this.#db;
    const found = new Map<string, T>();
    if (!db) return found;
    const store = db.transaction(name).objectStore(name);
    const range = IDBKeyRange.bound(`${this.plan} `, `${this.plan} \uffff`);
    const [keys, values] = await Promise.all([
      settled(store.getAllKeys(range)),
      settled(store.getAll(range)),
    ]);
    keys.forEach((k, i) => {
      found.set(String(k).slice(this.plan.length + 1), values[i] as T);
    });
    return found;
  }

  async #put(name: StoreName, key: string, value: unknown): Promise<void> {
    const db = await this.#db;
    if (!db) return;
    // Strict: it is told to be kept only once it is on the disk, not in its cache.
    const change = db.transaction(name, "readwrite", { durability: "strict" });
    const store = change.objectStore(name);
    if (value === null) store.delete(`${this.plan} ${key}`);
    else store.put(value, `${this.plan} ${key}`);
    await new Promise<void>((ok, no) => {
      change.oncomplete = () => ok();
      change.onerror = change.onabort = () => no(change.error);
    });
  }

  typed(): Promise<ReadonlyMap<string, Typed>> {
    return this.#all<Typed>("typed");
  }

  keepTyped(field: string, t: Typed | null): Promise<void> {
    return this.#put("typed", field, t);
  }

  async waiting(): Promise<readonly Waiting[]> {
    return [...(await this.#all<Waiting>("photos")).values()];
  }

  keepPhoto(id: string, w: Waiting | null): Promise<void> {
    return this.#put("photos", id, w);
  }
}

/** What is half typed on this page: known at once, kept as soon as it can be. */
export class Scraps {
  #now = new Map<string, Typed>();

  constructor(readonly keeper: Keeper) {}

  /** Brings back what was left; how much there is. */
  async bringBack(): Promise<number> {
    try {
      this.#now = new Map(await this.keeper.typed());
    } catch {
      this.#now = new Map(); // the browser's database is damaged: there is nothing to bring back
    }
    return this.#now.size;
  }

  get left(): readonly Typed[] {
    return [...this.#now.values()];
  }

  of(field: string): string | null {
    return this.#now.get(field)?.text ?? null;
  }

  keep(field: string, t: Typed): void {
    this.#now.set(field, t);
    void this.keeper.keepTyped(field, t).catch(() => {}); // it still stands in its field
  }

  drop(field: string): void {
    if (!this.#now.delete(field)) return;
    void this.keeper.keepTyped(field, null).catch(() => {});
  }

  dropAll(): void {
    for (const field of [...this.#now.keys()]) this.drop(field);
  }
}
