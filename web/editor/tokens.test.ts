import assert from "node:assert/strict";
import { test } from "node:test";
import { contrast, type Theme } from "./palette";
import { token } from "./testtokens";
import { apart, viewers } from "./testvision";

const themes: readonly Theme[] = ["light", "dark"];

/** Text and the grounds the style sheets put it on. */
const texts: Readonly<Record<string, readonly string[]>> = {
  ink: ["ground", "paper", "raised", "board", "accent-wash", "note-wash", "stop-wash"],
  "ink-soft": ["ground", "paper", "raised", "board", "accent-wash", "note-wash"],
  accent: ["ground", "paper", "raised", "board", "accent-wash", "note-wash"],
  "accent-ink": ["accent", "accent-hover"],
  stop: ["ground", "paper", "raised", "board", "stop-wash", "accent-wash"],
  mend: ["paper", "raised", "mend-wash"],
  note: ["note-wash"],
  good: ["good-wash"],
  focus: ["board"], // the names of snaps
};

/** Lines and marks that carry meaning, and what they lie on. */
const graphics: Readonly<Record<string, readonly string[]>> = {
  "rule-strong": ["ground", "paper", "raised"],
  focus: ["ground", "paper", "raised", "board", "accent-wash"],
  accent: ["ground", "paper", "raised", "board"],
  ink: ["board"],
  stop: ["board", "paper"],
  mend: ["board", "paper"],
  note: ["board", "paper", "note-wash"],
  good: ["paper"],
  "flow-1": ["board", "raised"],
  "flow-2": ["board", "raised"],
  "flow-3": ["board", "raised"],
  "flow-4": ["board", "raised"],
  "left-1": ["board", "raised"],
  "left-2": ["board", "raised"],
  "left-3": ["board", "raised"],
  "left-4": ["board", "raised"],
  "left-5": ["board", "raised"],
};

const pairs = (of: typeof texts): [string, string][] =>
  Object.entries(of).flatMap(([a, list]) => list.map((b): [string, string] => [a, b]));

// WCAG 2.2: 1.4.3 for text, 1.4.11 for what is not text.
test("row A24: text has a contrast of 4.5 on every ground it is used on, in both themes", () => {
  for (const theme of themes) {
    for (const [a, b] of pairs(texts)) {
      const c = contrast(token(a)[theme], token(b)[theme]);
      assert.ok(c >= 4.5, `${theme}: ${a} on ${b} has ${c.toFixed(2)}`);
    }
  }
});

test("row A24: borders, marks and the focus ring have a contrast of 3, in both themes", () => {
  for (const theme of themes) {
    for (const [a, b] of pairs(graphics)) {
      const c = contrast(token(a)[theme], token(b)[theme]);
      assert.ok(c >= 3, `${theme}: ${a} on ${b} has ${c.toFixed(2)}`);
    }
  }
});

test("row A22: the steps of velocity and of pressure in the pipes stay apart for every viewer", () => {
  for (const [name, count] of [
    ["flow", 4],
    ["left", 5],
  ] as const) {
    const steps = Array.from({ length: count }, (_, i) => token(`${name}-${i + 1}`));
    for (const theme of themes) {
      for (const [viewer, matrix] of Object.entries(viewers)) {
        steps.forEach((a, i) => {
          steps.slice(0, i).forEach((b, j) => {
            const d = apart(a[theme], b[theme], matrix);
            assert.ok(
              d >= 10,
              `${theme}, ${viewer}: ${name}-${j + 1} and ${name}-${i + 1} are ${d.toFixed(1)} apart`,
            );
          });
        });
      }
    }
  }
});
