// Ways out for an outline that crosses or touches itself.

import { type Corner, faultOf } from "./shape";

export interface Mend {
  readonly title: string;
  readonly outline: readonly Corner[];
}

/** More ways out than this are a riddle of their own. */
const MOST = 4;

/**
 * The mends that leave an outline without a fault, the gentlest first: turning
 * round the stretch between two crossing edges keeps every corner; taking out
 * one corner loses the least. Straight outlines only are turned round, since a
 * bulge belongs to the edge that leaves its corner. The newest corner, which
 * most likely did it, is the first to be offered for taking out.
 */
export function mends(outline: readonly Corner[], newest = outline.length - 1): Mend[] {
  const fault = faultOf(outline);
  if (!fault || fault.reason === "too_few") return [];
  const out: Mend[] = [];
  const offer = (title: string, next: readonly Corner[]) => {
    if (faultOf(next) === null) out.push({ title, outline: next });
  };
  if (fault.other !== undefined && outline.every((c) => (c[2] ?? 0) === 0)) {
    offer("Uncross the edges", turnedRound(outline, fault.corner, fault.other));
  }
  const last = newest === outline.length - 1;
  offer(last ? "Take out the last corner" : `Take out corner ${newest + 1}`, without(outline, newest));
  for (const i of suspects(fault.corner, fault.other, outline.length)) {
    if (i !== newest) offer(`Take out corner ${i + 1}`, without(outline, i));
  }
  return out.slice(0, MOST);
}

const without = (outline: readonly Corner[], i: number): Corner[] => outline.filter((_, k) => k !== i);

/** The corners after the first crossing edge up to the second, in reverse. */
function turnedRound(outline: readonly Corner[], first: number, second: number): Corner[] {
  return [
    ...outline.slice(0, first + 1),
    ...outline.slice(first + 1, second + 1).reverse(),
    ...outline.slice(second + 1),
  ];
}

/** The ends of the edges at fault, each once. */
function suspects(corner: number, other: number | undefined, n: number): number[] {
  const ends = [corner, corner + 1];
  if (other !== undefined) ends.push(other, other + 1);
  return [...new Set(ends.map((i) => i % n))];
}
