import assert from "node:assert/strict";
import { test } from "node:test";
import { contrast, type RGB, type Theme } from "./palette";
import { token } from "./testtokens";
import { apart, type Matrix, viewers } from "./testvision";

const zones = [1, 2, 3, 4, 5, 6, 7, 8].map((n) => token(`zone-${n}`));
const grounds = ["board", "raised"].map((n) => token(n));
const themes: readonly Theme[] = ["light", "dark"];

test("ΔE of black and white is 100, and a red and a green draw together for a green-blind viewer", () => {
  const [normal, deutan] = [viewers["normal vision"] as Matrix, viewers.deuteranopia as Matrix];
  assert.ok(Math.abs(apart([0, 0, 0], [255, 255, 255], normal) - 100) < 0.01);
  const [red, green]: [RGB, RGB] = [
    [170, 60, 40],
    [95, 105, 40],
  ];
  assert.ok(apart(red, green, deutan) < apart(red, green, normal) / 2);
});

test("rowA22: the colours of the zones stay apart for every viewer", () => {
  for (const theme of themes) {
    for (const [name, viewer] of Object.entries(viewers)) {
      zones.forEach((a, i) => {
        zones.slice(0, i).forEach((b, j) => {
          const d = apart(a[theme], b[theme], viewer);
          assert.ok(d >= 10, `${theme}, ${name}: zones ${j + 1} and ${i + 1} are ${d.toFixed(1)} apart`);
        });
      });
    }
  }
});

test("rowA22: the marks and numbers of zones stand out from the board", () => {
  for (const theme of themes) {
    for (const ground of grounds) {
      zones.forEach((z, i) => {
        const c = contrast(z[theme], ground[theme]);
        assert.ok(c >= 4.5, `zone ${i + 1}, ${theme}: contrast ${c.toFixed(1)}`);
      });
    }
  }
});
