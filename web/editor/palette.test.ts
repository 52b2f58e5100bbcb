import assert from "node:assert/strict";
import { test } from "node:test";
import {
  colourOf,
  contrast,
  hatched,
  luminance,
  offTarget,
  onTarget,
  pixels,
  type RGB,
  shareOf,
  strayAlpha,
  strayColour,
  type Theme,
} from "./palette";

const themes: readonly Theme[] = ["light", "dark"];
const board: Record<Theme, RGB> = { light: [253, 253, 249], dark: [18, 25, 27] };

test("a byte is either nothing, planting or water off its target", () => {
  assert.deepEqual([onTarget(0), offTarget(0)], [false, false]);
  for (let b = 1; b < 256; b++) assert.notEqual(onTarget(b), offTarget(b), `byte ${b}`);
  assert.equal(shareOf(101), 1);
  assert.equal(shareOf(1), 0);
  assert.equal(shareOf(221), 1);
});

test("the map is lightest on target and darker with every step away from it", () => {
  for (const theme of themes) {
    for (let s = 0; s < 100; s++) {
      const [dry, wet] = [s / 100, 2 - s / 100];
      const towards = 0.01;
      assert.ok(
        luminance(colourOf(dry, theme)) <= luminance(colourOf(dry + towards, theme)),
        `${theme} ${dry}`,
      );
      assert.ok(
        luminance(colourOf(wet, theme)) <= luminance(colourOf(wet - towards, theme)),
        `${theme} ${wet}`,
      );
    }
  }
});

// Brettel, Viénot and Mollon 1997, in the single-matrix form of Viénot, Brettel
// and Mollon 1999 for red- and green-blind viewers, on linear light.
const blind: Record<string, readonly (readonly [number, number, number])[]> = {
  protan: [
    [0.11238, 0.88762, 0],
    [0.11238, 0.88762, 0],
    [0.00401, -0.00401, 1],
  ],
  deutan: [
    [0.29275, 0.70725, 0],
    [0.29275, 0.70725, 0],
    [-0.02234, 0.02234, 1],
  ],
};

function seenBy(m: readonly (readonly [number, number, number])[], c: RGB): RGB {
  const lin = c.map((v) => (v / 255) ** 2.2) as unknown as RGB;
  const out = m.map(
    (row) => Math.max(0, row[0] * lin[0] + row[1] * lin[1] + row[2] * lin[2]) ** (1 / 2.2) * 255,
  );
  return out as unknown as RGB;
}

const apart = (a: RGB, b: RGB): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

test("rowA22: dry and wet stay apart for red- and green-blind viewers", () => {
  for (const theme of themes) {
    for (const [name, m] of Object.entries(blind)) {
      for (const away of [0.3, 0.5, 0.8, 1]) {
        const d = apart(seenBy(m, colourOf(1 - away, theme)), seenBy(m, colourOf(1 + away, theme)));
        assert.ok(d >= 35, `${theme} ${name} at ±${away}: ${d.toFixed(0)}`);
      }
    }
  }
});

test("water off its target stands out from the board, and is hatched so that it needs no colour", () => {
  for (const theme of themes) assert.ok(contrast(strayColour(theme), board[theme]) >= 4.5, theme);
  const { plain, hatch } = pixels("light");
  for (let b = 201; b < 256; b++) assert.notEqual(plain[b], hatch[b]);
  for (let b = 0; b <= 200; b++) assert.equal(plain[b], hatch[b]);
  let lines = 0;
  for (let x = 0; x < 80; x++) lines += hatched(x, 0) ? 1 : 0;
  assert.equal(lines, 30);
});

/** What a colour of some opacity looks like on the board. */
const over = (c: RGB, alpha: number, under: RGB): RGB =>
  under.map((u, i) => u + (((c[i] as number) - u) * alpha) / 255) as unknown as RGB;

test("row A28: a trace off its target is faint beside a full rate, and still seen by everybody", () => {
  for (const theme of themes) {
    const under = board[theme];
    const seen = (byte: number): RGB => over(strayColour(theme), strayAlpha(byte), under);
    const trace = apart(seen(201), under);
    assert.ok(apart(seen(221), under) >= 5 * trace, `${theme}: full rate`);
    assert.ok(apart(seen(205), under) <= 0.35 * apart(seen(221), under), `${theme}: a fifth of the mean`);
    assert.ok(trace >= 14, `${theme}: a trace is ${trace.toFixed(0)} apart from the board`);
    for (const [name, m] of Object.entries(blind)) {
      const d = apart(seenBy(m, seen(203)), seenBy(m, under));
      assert.ok(d >= 14, `${theme} ${name}: a tenth of the mean is ${d.toFixed(0)} apart`);
    }
  }
});

test("more water off its target is never fainter", () => {
  for (let b = 202; b < 256; b++) assert.ok(strayAlpha(b) >= strayAlpha(b - 1), `byte ${b}`);
});
