// What a section of the page is: which item one is at, how much is left, and its screen.

import type { Section } from "./session";
import type { Screen } from "./ui";

export interface Part {
  readonly id: Section;
  readonly title: string;
  /** What is left to do, as its tab says it; "": nothing, or nothing to count. */
  left(): string;
  /** The item that an empty one stands for: where the work goes on. */
  at(item: string): string;
  /** The screen of an item. */
  open(item: string): Screen;
  /** By what the screen of an item has to be made anew though it is the same item. */
  made(item: string): string;
}

/** The item after and before one in a list. */
export const stepIn = (all: readonly string[], item: string, by: number): string | null =>
  all[all.indexOf(item) + by] ?? null;
