// How far colours are apart as different people see them, for tests.

import type { RGB } from "./palette";

type Row = readonly [number, number, number];
export type Matrix = readonly [Row, Row, Row];

// Machado, Oliveira and Fernandes, "A Physiologically-based Model for Simulation
// of Color Vision Deficiency", IEEE TVCG 15(6), 2009: severity 1.0, on linear
// light.
export const viewers: Record<string, Matrix> = {
  "normal vision": [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  protanopia: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deuteranopia: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  tritanopia: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
};

const times = (m: Matrix, [a, b, c]: RGB): RGB => {
  const [x, y, z] = m.map((r) => r[0] * a + r[1] * b + r[2] * c) as unknown as RGB;
  return [x, y, z];
};

const linear = (c: RGB): RGB =>
  c.map((v) => (v / 255 <= 0.04045 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4)) as unknown as RGB;

// sRGB to CIE XYZ over the white of D65 (IEC 61966-2-1), and to CIE L*a*b* (CIE 15).
const xyz: Matrix = [
  [0.4124564 / 0.95047, 0.3575761 / 0.95047, 0.1804375 / 0.95047],
  [0.2126729, 0.7151522, 0.072175],
  [0.0193339 / 1.08883, 0.119192 / 1.08883, 0.9503041 / 1.08883],
];

function lab(light: RGB): RGB {
  const f = (t: number): number => (t > 216 / 24389 ? Math.cbrt(t) : ((24389 / 27) * t + 16) / 116);
  const [x, y, z] = times(xyz, light).map(f) as unknown as RGB;
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}

const within = (c: RGB): RGB => c.map((v) => Math.min(1, Math.max(0, v))) as unknown as RGB;

/** The distance of two colours in CIE76 ΔE as a viewer sees them. */
export function apart(a: RGB, b: RGB, viewer: Matrix): number {
  const [p, q] = [lab(within(times(viewer, linear(a)))), lab(within(times(viewer, linear(b))))];
  return Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}
