// Keys by name, and which command a key means where. A lone character key
// counts only while the board has focus (WCAG 2.2, 2.1.4), and never while text
// is being typed.

import { type CommandID, table, type Where } from "./commands";

/** What of a keyboard event is read. */
export interface KeyIn {
  readonly key: string;
  readonly code: string;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly altKey: boolean;
  readonly shiftKey: boolean;
}

/**
 * A key as the table writes it: "Ctrl+Shift+Z", "Shift+F", "?". Letters are the
 * Latin ones of the key's place where the layout has others. A sign made with
 * Shift is written as the sign alone.
 */
export function keyName(e: KeyIn): string {
  const key = latin(e);
  const letter = /^[A-Z]$/.test(key);
  const named = key.length > 1;
  const mods = [
    (e.ctrlKey || e.metaKey) && "Ctrl",
    e.altKey && "Alt",
    e.shiftKey && (letter || named) && "Shift",
  ].filter((m): m is string => m !== false);
  return [...mods, key].join("+");
}

function latin(e: KeyIn): string {
  if (e.key.length > 1) return e.key;
  const upper = e.key.toUpperCase();
  if (/^[A-Z]$/.test(upper)) return upper;
  // Not a letter of ours: another script's letter stands for the key it is on.
  const at = /^Key([A-Z])$/.exec(e.code);
  return at?.[1] && e.key.charCodeAt(0) > 127 ? at[1] : e.key;
}

const byKey = new Map<string, { id: CommandID; where: Where }>();
for (const id of Object.keys(table) as CommandID[]) {
  for (const key of table[id].keys) byKey.set(key, { id, where: table[id].where });
}

/** The command a key means, given where the focus is; null when none. */
export function commandFor(e: KeyIn, at: { board: boolean; typing: boolean }): CommandID | null {
  const found = byKey.get(keyName(e));
  if (!found || at.typing) return null;
  return found.where === "page" || at.board ? found.id : null;
}

/** Whether an element takes text, so that keys belong to it. */
export function takesText(el: Element | null): boolean {
  if (!el) return false;
  if (el.closest("dialog[open]")) return true;
  if (el instanceof HTMLElement && el.isContentEditable) return true;
  if (el.matches("textarea, select")) return true;
  return el.matches(
    "input:not([type=checkbox], [type=radio], [type=button], [type=range], [type=file], [type=submit])",
  );
}

/** An arrow key's direction: x east, y north. */
export function arrow(key: string): readonly [number, number] | null {
  switch (key) {
    case "ArrowLeft":
      return [-1, 0];
    case "ArrowRight":
      return [1, 0];
    case "ArrowUp":
      return [0, 1];
    case "ArrowDown":
      return [0, -1];
    default:
      return null;
  }
}
