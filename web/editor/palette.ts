// The colours of the map: brown where it is dry, pale on target, teal where it
// is wet. Brown and teal stay apart for every common colour blindness, and
// lightness says how far from target a place is either way. Water off its
// target is a dark pink-red that appears nowhere else, and is hatched, so that
// it does not need its colour to be told apart.

export type RGB = readonly [number, number, number];
export type Theme = "light" | "dark";

/** Map byte: 0 nothing; 1–200 share of the area's mean + 1 in hundredths; 201–255 water off target, in twentieths. */
export const onTarget = (byte: number): boolean => byte >= 1 && byte <= 200;
export const offTarget = (byte: number): boolean => byte >= 201;

/** The share of the mean a byte stands for. */
export const shareOf = (byte: number): number => (byte > 200 ? (byte - 201) / 20 : (byte - 1) / 100);

type Stop = readonly [share: number, colour: RGB];

const stops: Record<Theme, readonly Stop[]> = {
  light: [
    [0, [104, 60, 16]],
    [0.5, [178, 122, 58]],
    [0.8, [222, 192, 140]],
    [1, [246, 243, 232]],
    [1.2, [190, 222, 214]],
    [1.5, [104, 172, 163]],
    [2, [14, 94, 90]],
  ],
  dark: [
    [0, [98, 58, 18]],
    [0.5, [148, 104, 54]],
    [0.8, [184, 160, 118]],
    [1, [214, 210, 196]],
    [1.2, [160, 194, 186]],
    [1.5, [84, 150, 142]],
    [2, [20, 98, 94]],
  ],
};

const stray: Record<Theme, RGB> = { light: [176, 24, 72], dark: [255, 110, 140] };

/** The colour of planting that gets this share of its area's mean. */
export function colourOf(share: number, theme: Theme): RGB {
  const list = stops[theme];
  const s = Math.min(2, Math.max(0, share));
  let i = 1;
  while (i < list.length - 1 && s > (list[i] as Stop)[0]) i++;
  const [s0, a] = list[i - 1] as Stop;
  const [s1, b] = list[i] as Stop;
  const t = (s - s0) / (s1 - s0);
  const mix = (k: 0 | 1 | 2): number => Math.round(a[k] + (b[k] - a[k]) * t);
  return [mix(0), mix(1), mix(2)];
}

/** The colour of water off its target. */
export const strayColour = (theme: Theme): RGB => stray[theme];

/** Opacity of water off its target, 0–255: by its rate, so that a trace is faint, yet never unseen. */
export function strayAlpha(byte: number): number {
  const share = shareOf(byte);
  return Math.round(Math.min(215, FAINTEST + share * 160));
}

/** The opacity of a trace on the lines of its hatch. Chosen: it can just be seen in both themes. */
const FAINTEST = 28;

/** The width of a hatch line and the distance to the next, in cells along x. */
const hatch = { line: 3, every: 8 };

/** Whether a cell lies on a line of the hatch. */
export const hatched = (x: number, y: number): boolean =>
  (((x + y) % hatch.every) + hatch.every) % hatch.every < hatch.line;

const little = new Uint8Array(new Uint32Array([1]).buffer)[0] === 1;

const pack = ([r, g, b]: RGB, a: number): number =>
  (little ? (a << 24) | (b << 16) | (g << 8) | r : (r << 24) | (g << 16) | (b << 8) | a) >>> 0;

/** Two look-up tables from map byte to a pixel of an ImageData: between hatch lines, and on them. */
export interface Pixels {
  plain: Uint32Array;
  hatch: Uint32Array;
}

export function pixels(theme: Theme): Pixels {
  const plain = new Uint32Array(256);
  const lines = new Uint32Array(256);
  for (let b = 1; b < 256; b++) {
    if (onTarget(b)) {
      plain[b] = lines[b] = pack(colourOf(shareOf(b), theme), 255);
      continue;
    }
    const a = strayAlpha(b);
    plain[b] = pack(stray[theme], Math.round(a * 0.4));
    lines[b] = pack(stray[theme], a);
  }
  return { plain, hatch: lines };
}

/** Relative luminance, WCAG 2.2. */
export function luminance([r, g, b]: RGB): number {
  const lin = (c: number): number => {
    const v = c / 255;
    return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
  };
  return 0.2126 * lin(r) + 0.7152 * lin(g) + 0.0722 * lin(b);
}

/** Contrast ratio of two colours, WCAG 2.2. */
export function contrast(a: RGB, b: RGB): number {
  const [hi, lo] = [luminance(a), luminance(b)].sort((p, q) => q - p) as [number, number];
  return (hi + 0.05) / (lo + 0.05);
}
