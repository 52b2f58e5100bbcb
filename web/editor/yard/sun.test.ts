import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import { contrast, type RGB } from "../palette";

const css = readFileSync(join(process.env.EVENFALL_ROOT ?? ".", "web/editor/css/tokens.css"), "utf8");
const sun = /:root:root\[data-sun\] \{([^}]*)\}/.exec(css)?.[1] ?? "";

function token(name: string): RGB {
  const found = new RegExp(`--${name}: #([0-9a-f]{6});`).exec(sun);
  assert.ok(found, `the look for the sun has no --${name}`);
  const v = Number.parseInt(found[1] ?? "", 16);
  return [v >> 16, (v >> 8) & 255, v & 255];
}

// WCAG 2.2, 1.4.6: what is to be read under hard conditions has 7.
test("in the sun all text has a contrast of 7 on every ground, and rules one of 7 too", () => {
  const grounds = [
    "ground",
    "paper",
    "raised",
    "accent-wash",
    "note-wash",
    "stop-wash",
    "mend-wash",
    "good-wash",
  ];
  for (const text of ["ink", "ink-soft", "accent", "stop", "mend", "note", "good"])
    for (const ground of grounds) {
      const c = contrast(token(text), token(ground));
      assert.ok(c >= 7, `${text} on ${ground} has ${c.toFixed(2)}`);
    }
  assert.ok(contrast(token("accent-ink"), token("accent")) >= 7);
  for (const mark of ["rule", "rule-strong"]) assert.ok(contrast(token(mark), token("paper")) >= 7, mark);
  assert.ok(contrast(token("focus"), token("paper")) >= 4.5);
});
