// The commands taken from the list lately, newest first: a habit of a person,
// kept in this browser.

import type { Shelf } from "./aids";

const KEY = "evenfall-recent";
const MOST = 8;

/** What was kept; anything unreadable counts as nothing. */
export function recent(shelf: Shelf | null): string[] {
  try {
    const kept: unknown = JSON.parse(shelf?.getItem(KEY) ?? "[]");
    return Array.isArray(kept) ? kept.filter((k): k is string => typeof k === "string").slice(0, MOST) : [];
  } catch {
    return [];
  }
}

/** Puts one in front. */
export function used(shelf: Shelf | null, key: string): void {
  const next = [key, ...recent(shelf).filter((k) => k !== key)].slice(0, MOST);
  try {
    shelf?.setItem(KEY, JSON.stringify(next));
  } catch {
    // Storage forbidden or full: the list then has no order of use.
  }
}
