// Finding words in names as they are typed: whole words before beginnings,
// beginnings before middles, and, where asked, letters in order.

/** A name that matches, how well, and which of its letters to mark. */
export interface Match {
  /** Higher is better; only compared with others of one search. */
  readonly score: number;
  /** Places of the letters that matched, in order. */
  readonly marks: readonly number[];
}

const WHOLE = 100;
const BEGINNING = 70;
const MIDDLE = 40;
const SCATTERED = 10;

const plain = (s: string): string => {
  const low = s.toLowerCase();
  return low.length === s.length ? low : s; // letters that change length in lower case keep their places
};

const isWordAt = (text: string, at: number): boolean =>
  at === 0 || !/[\p{L}\p{N}]/u.test(text[at - 1] as string);

const run = (at: number, n: number): number[] => Array.from({ length: n }, (_, i) => at + i);

/** One word of a query in a text: the best of all the places it occurs at. */
function word(w: string, text: string, loose: boolean): Match | null {
  let best: Match | null = null;
  for (let at = text.indexOf(w); at >= 0; at = text.indexOf(w, at + 1)) {
    const begins = isWordAt(text, at);
    const ends = at + w.length === text.length || !/[\p{L}\p{N}]/u.test(text[at + w.length] as string);
    const score = begins ? (ends ? WHOLE : BEGINNING) : MIDDLE;
    if (!best || score > best.score) best = { score, marks: run(at, w.length) };
  }
  return best ?? (loose ? scattered(w, text) : null);
}

/** The letters of a word in order, each as early as it can be, better at the beginnings of words. */
function scattered(w: string, text: string): Match | null {
  const marks: number[] = [];
  let score = SCATTERED;
  let from = 0;
  for (const letter of w) {
    const begin = nextBeginning(text, letter, from);
    const at = begin >= 0 ? begin : text.indexOf(letter, from);
    if (at < 0) return null;
    if (begin >= 0) score += 3;
    if (at === (marks.at(-1) ?? -2) + 1) score += 1;
    marks.push(at);
    from = at + 1;
  }
  // Letters spread over a whole sentence are no match.
  const spread = (marks.at(-1) as number) - (marks[0] as number);
  return w.length > 1 && spread <= w.length * 8 ? { score: score / w.length, marks } : null;
}

function nextBeginning(text: string, letter: string, from: number): number {
  for (let at = text.indexOf(letter, from); at >= 0; at = text.indexOf(letter, at + 1)) {
    if (isWordAt(text, at)) return at;
  }
  return -1;
}

/**
 * How well a query matches a name and what else is known of the thing. Every
 * word must be found in the one or the other; the name counts more. Loose: the
 * letters of a word may lie apart in the name.
 */
export function matches(query: string, name: string, more: string, loose: boolean): Match | null {
  const words = plain(query)
    .split(/\s+/)
    .filter((w) => w !== "");
  const [title, rest] = [plain(name), plain(more)];
  let score = 0;
  const marks = new Set<number>();
  for (const w of words) {
    const own = word(w, title, false);
    const other = own ? null : word(w, rest, false);
    const apart = own || other || !loose ? null : word(w, title, true);
    const found = own ?? apart ?? other;
    if (!found) return null;
    score += other ? found.score / 4 : found.score;
    if (!other) for (const at of found.marks) marks.add(at);
  }
  if (plain(query).trim() === title.trim()) score += WHOLE;
  return { score: score - Math.min(9, title.length / 20), marks: [...marks].sort((a, b) => a - b) };
}
