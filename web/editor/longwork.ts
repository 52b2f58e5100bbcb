// Work that takes the server long: it tells how far it is, line by line, and is
// called off by ending the request. What is under way is kept here for the page
// to show; the panel of it is panels/progress.ts.

import { type Failure, failure, noAnswer, type Outcome } from "./api";

/** How far a work is. */
export interface Told {
  readonly step: string;
  /** From 0 to 1. */
  readonly share: number;
  /** What would be the answer if the work ended now, where it tells that: whole in itself. */
  readonly best?: unknown;
}

/** From this on a cue shows that something is under way, in ms. */
const CUE_MS = 200;
/** From this on a bar shows how far it is, in ms. */
const BAR_MS = 1000;

/** One work under way. */
export class Work {
  /** quiet: too short yet to be worth a word; cue: under way; bar: with step and share. */
  shows: "quiet" | "cue" | "bar" = "quiet";
  told: Told = { step: "", share: 0 };
  readonly off = new AbortController();
  /** own: whoever asked for it shows how far it is. */
  constructor(
    readonly title: string,
    readonly own = false,
  ) {}
}

type Later = (fn: () => void, ms: number) => unknown;

/** The long works of one page. */
export class LongWork {
  #works: Work[] = [];
  #listeners = new Set<() => void>();

  constructor(readonly later: Later = (fn, ms) => setTimeout(fn, ms)) {}

  /** What is under way, the oldest first. */
  get works(): readonly Work[] {
    return this.#works;
  }

  /** Calls fn whenever something begins, comes on or ends. */
  subscribe(fn: () => void): void {
    this.#listeners.add(fn);
  }

  /**
   * Does a work under a title; null when it was called off. What it answers is
   * for the caller to use whole or not at all. own: the caller shows how far it is.
   */
  async run<T>(
    title: string,
    work: (off: AbortSignal, tell: (t: Told) => void) => Promise<Outcome<T> | null>,
    off?: AbortSignal,
    own = false,
  ): Promise<Outcome<T> | null> {
    const w = new Work(title, own);
    off?.addEventListener("abort", () => this.stop(w));
    this.#works = [...this.#works, w];
    this.#changed();
    for (const [shows, ms] of [
      ["cue", CUE_MS],
      ["bar", BAR_MS],
    ] as const) {
      this.later(() => {
        if (!this.#works.includes(w)) return;
        w.shows = shows;
        this.#changed();
      }, ms);
    }
    try {
      const answer = await work(w.off.signal, (t) => {
        w.told = t;
        if (w.shows === "bar") this.#changed();
      });
      return w.off.signal.aborted ? null : answer;
    } finally {
      this.#end(w);
    }
  }

  /** Calls a work off, the newest one if none is named; false when there is none. */
  stop(w: Work | undefined = this.#works.at(-1)): boolean {
    if (!w || !this.#works.includes(w)) return false;
    w.off.abort();
    this.#end(w);
    return true;
  }

  #end(w: Work): void {
    if (!this.#works.includes(w)) return;
    this.#works = this.#works.filter((x) => x !== w);
    this.#changed();
  }

  #changed(): void {
    for (const fn of this.#listeners) fn();
  }
}

interface Line<T> {
  step?: string;
  share?: number;
  best?: T;
  value?: T;
  error?: string;
  status?: number;
}

/** Asks an address for a work told in lines; null when it was called off. */
export async function askLong<T>(
  url: string,
  off: AbortSignal,
  tell: (t: Told) => void,
  ask: typeof fetch = (...args) => fetch(...args),
): Promise<Outcome<T> | null> {
  try {
    const answer = await ask(url, {
      headers: { Accept: "application/x-ndjson" },
      cache: "no-store",
      signal: off,
    });
    if (!answer.ok || !answer.body) return failure(answer.status, await said(answer));
    let told: Told = { step: "", share: 0 };
    for await (const line of lines<T>(answer.body)) {
      if (off.aborted) return null;
      if (line.error !== undefined) return failure(line.status ?? 500, { error: line.error });
      if (line.value !== undefined) return { ok: true, value: line.value };
      told = { step: line.step ?? told.step, share: line.share ?? told.share };
      tell(line.best === undefined ? told : { ...told, best: line.best });
    }
    return noAnswer(); // it broke off before the value
  } catch {
    return off.aborted ? null : noAnswer();
  }
}

async function said(answer: Response): Promise<Partial<Failure>> {
  try {
    return (await answer.json()) as Partial<Failure>;
  } catch {
    return {};
  }
}

/** The lines of a stream, each read as JSON. */
async function* lines<T>(body: ReadableStream<Uint8Array>): AsyncGenerator<Line<T>> {
  const reader = body.getReader();
  const decoder = new TextDecoder();
  const begun: string[] = []; // of the line that has not ended
  for (;;) {
    const { done, value } = await reader.read();
    const pieces = decoder.decode(value, { stream: !done }).split("\n");
    while (pieces.length > 1) {
      begun.push(pieces.shift() as string);
      const line = begun.splice(0).join("");
      if (line.trim() !== "") yield JSON.parse(line) as Line<T>;
    }
    begun.push(pieces[0] ?? "");
    if (done) return;
  }
}
