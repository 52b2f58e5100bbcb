// Which plans of the list are shown, and in what order. A list of a thousand
// stays quick: rows that are not shown are hidden, and a hidden row costs no
// layout and loads no picture.

import { byID } from "./dom";

/** One plan of the list, as far as finding it goes. */
export interface Listed {
  name: string;
  /** Its place by last change, the newest first. */
  place: number;
  archived: boolean;
}

export interface Wanted {
  find: string;
  sort: "changed" | "name";
  archived: boolean;
}

/** How many rows are shown at once, and how many more each time more are asked for. */
export const shownFirst = 24;

/** A text without capitals and accents, so that "Muller" finds "Müller". */
export function fold(s: string): string {
  return s.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase().replace(/ß/g, "ss");
}

const byName = new Intl.Collator(undefined, { sensitivity: "base", numeric: true });

/** How well a name answers a search: the lower the better, null for not at all. */
function answers(name: string, find: string, words: readonly string[]): number | null {
  const own = name.split(/[^\p{L}\p{N}]+/u);
  const begins = (w: string): boolean => own.some((o) => o.startsWith(w));
  // Within a word only what is long enough to be meant: a 2 is not the 2 of 12.
  const within = (w: string): boolean =>
    name.includes(w) && ((w.length >= 3 && !/\d/.test(w)) || /[^\p{L}\p{N}]/u.test(w));
  const later = name.startsWith(find) ? 0 : 1;
  if (words.every((w) => own.includes(w))) return later;
  if (words.every(begins)) return 2 + later;
  return words.every((w) => begins(w) || within(w)) ? 4 + later : null;
}

/**
 * The plans that are wanted, in order. Every word of the search must be in the
 * name; names with the words whole come first, and of those the ones that begin with it.
 */
export function wanted<T extends Listed>(plans: readonly T[], w: Wanted): T[] {
  const find = fold(w.find).trim();
  const words = find.split(/\s+/).filter((s) => s !== "");
  const found = plans.flatMap((plan) => {
    const rank = plan.archived === w.archived ? answers(fold(plan.name), find, words) : null;
    return rank === null ? [] : [{ plan, rank }];
  });
  found.sort((a, b) => {
    const name = w.sort === "name" ? byName.compare(a.plan.name, b.plan.name) : 0;
    return a.rank - b.rank || name || a.plan.place - b.plan.place;
  });
  return found.map((f) => f.plan);
}

interface Row extends Listed {
  el: HTMLElement;
}

/** The list on the page, with its search, order and choice of what is shown. */
export class PlanList {
  readonly #list = byID("plans");
  readonly #find = byID<HTMLInputElement>("find");
  readonly #sort = byID<HTMLSelectElement>("sort");
  readonly #which = byID<HTMLSelectElement>("which");
  readonly #more = byID("plans-more");
  readonly #none = byID("plans-none");
  #rows: Row[];
  #most = shownFirst;

  constructor() {
    const rows = Array.from(this.#list.children as HTMLCollectionOf<HTMLElement>); // the last changed first
    this.#rows = rows.map((el, place) => ({
      el,
      place,
      name: el.dataset.name ?? "",
      archived: el.dataset.archived !== undefined,
    }));
    for (const [el, kind] of [
      [this.#find, "input"],
      [this.#sort, "change"],
      [this.#which, "change"],
    ] as const)
      el.addEventListener(kind, () => {
        this.#most = shownFirst;
        this.show();
      });
    this.#more.addEventListener("click", () => this.#showMore());
    this.show();
  }

  /** Notes that a plan was put away or brought back. */
  move(el: HTMLElement, archived: boolean): void {
    for (const r of this.#rows) if (r.el === el) r.archived = archived;
    this.show();
  }

  /** Takes a plan out of the list. */
  drop(el: HTMLElement): void {
    this.#rows = this.#rows.filter((r) => r.el !== el);
    el.remove();
    this.show();
  }

  show(): void {
    const archived = this.#which.value === "archived";
    const sort = this.#sort.value === "name" ? "name" : "changed";
    const found = wanted(this.#rows, { find: this.#find.value, sort, archived });
    const all = this.#rows.filter((r) => r.archived === archived).length;
    const shown = new Set(found.slice(0, this.#most));
    for (const r of this.#rows) r.el.hidden = !shown.has(r as Row);
    this.#order([...shown].map((r) => r.el));
    this.#more.hidden = found.length <= this.#most;
    this.#say(found.length, shown.size, all, archived);
  }

  /** Puts rows in order. A row that is moved loses the focus, and gets it again. */
  #order(rows: readonly HTMLElement[]): void {
    const held = document.activeElement as HTMLElement | null;
    this.#list.append(...rows);
    if (held && held !== document.activeElement && this.#list.contains(held)) held.focus();
  }

  #say(found: number, shown: number, all: number, archived: boolean): void {
    const kind = archived ? "archived" : "in use";
    const find = this.#find.value.trim();
    const which = find
      ? `${found} of ${all} plans ${kind}`
      : `${all} ${all === 1 ? "plan" : "plans"} ${kind}`;
    byID("found").textContent = shown < found ? `${which}; the first ${shown} are shown` : which;
    this.#none.hidden = found > 0;
    if (found > 0) return;
    if (find)
      this.#none.textContent = `No plan ${kind} has “${find}” in its name. Try fewer letters, or look among ${
        archived ? "those in use" : "the archived"
      }.`;
    else if (archived)
      this.#none.textContent =
        "No plan is archived. Archive one to have it out of the way without losing it.";
    else this.#none.textContent = "Every plan is archived. Begin one below, or bring one back.";
  }

  #showMore(): void {
    const before = this.#most;
    this.#most += shownFirst;
    this.show();
    const next = this.#list.querySelectorAll<HTMLElement>(".plan-row:not([hidden])")[before];
    next?.querySelector<HTMLElement>("h2 a")?.focus();
  }
}
