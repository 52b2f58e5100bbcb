// Times as people read them. The server keeps and sends UTC; only here does a
// time become the clock on the wall, and only to be read: nothing is ordered
// by it.

/** Things of one day, in the order they came. */
export interface Day<T> {
  /** The day in words: "Today", "Yesterday" or the date. */
  words: string;
  things: T[];
}

/** Reads and writes times in one time zone; the reader's own when none is given. */
export class Clock {
  readonly #day: Intl.DateTimeFormat;
  readonly #date: Intl.DateTimeFormat;
  readonly #time: Intl.DateTimeFormat;
  readonly #both: Intl.DateTimeFormat;

  constructor(
    readonly now: () => Date = () => new Date(),
    timeZone?: string,
    locale?: string,
  ) {
    this.#day = new Intl.DateTimeFormat("en-CA", {
      timeZone,
      year: "numeric",
      month: "2-digit",
      day: "2-digit",
    });
    this.#date = new Intl.DateTimeFormat(locale, {
      timeZone,
      weekday: "long",
      year: "numeric",
      month: "long",
      day: "numeric",
    });
    this.#time = new Intl.DateTimeFormat(locale, { timeZone, timeStyle: "short" });
    this.#both = new Intl.DateTimeFormat(locale, { timeZone, dateStyle: "medium", timeStyle: "short" });
  }

  /** The civil date of a time sent by the server; the text as it is when it is none. */
  day(at: string): string {
    const when = read(at);
    return when ? this.#day.format(when) : at;
  }

  /** The time of day. */
  time(at: string): string {
    const when = read(at);
    return when ? this.#time.format(when) : at;
  }

  /** Date and time. */
  full(at: string): string {
    const when = read(at);
    return when ? this.#both.format(when) : at;
  }

  /** Puts neighbours of one day together. A day that comes again after another is shown again. */
  days<T extends { at: string }>(things: readonly T[]): Day<T>[] {
    const list: Day<T>[] = [];
    let last = "";
    for (const thing of things) {
      const day = this.day(thing.at);
      if (day !== last || list.length === 0) list.push({ words: this.#words(thing.at), things: [] });
      last = day;
      list.at(-1)?.things.push(thing);
    }
    return list;
  }

  #words(at: string): string {
    const when = read(at);
    if (!when) return at;
    const day = this.day(at);
    const now = this.now();
    if (day === this.#day.format(now)) return "Today";
    if (day === dayBefore(this.#day.format(now))) return "Yesterday";
    return this.#date.format(when);
  }
}

/** The civil date before one, by the calendar: no day there is 24 hours long for sure. */
function dayBefore(day: string): string {
  const [y = 0, m = 1, d = 1] = day.split("-").map(Number);
  return new Date(Date.UTC(y, m - 1, d - 1)).toISOString().slice(0, 10);
}

function read(at: string): Date | null {
  const when = new Date(at);
  return Number.isNaN(when.getTime()) ? null : when;
}

/** Puts every time on the page into the reader's own zone. */
export function localTimes(root: ParentNode, clock = new Clock()): void {
  for (const el of root.querySelectorAll<HTMLTimeElement>("time[datetime]")) {
    el.textContent = clock.full(el.dateTime);
  }
}
