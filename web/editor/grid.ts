// The grid: steps people use on the ground, the smallest that is still far
// enough apart on the screen.

import { FEET_A_METRE } from "./conversions";
import type { Point } from "./geometry";
import type { System } from "./model";

export interface Grid {
  /** Distance between lines, in feet. */
  readonly step: number;
  /** Every so many lines a strong one. */
  readonly every: number;
  /** What places are rounded to: finer than the lines where lines would be too many. */
  readonly snap: number;
  /** The steps in words. */
  readonly text: string;
}

const M = FEET_A_METRE;

/** step and lines to a strong one: feet by inches, feet, tens; metres by tenths, ones, fives. */
const steps: Readonly<Record<System, readonly (readonly [number, number])[]>> = {
  us: [
    [1 / 12, 12],
    [0.5, 2],
    [1, 5],
    [5, 2],
    [10, 5],
    [50, 2],
    [100, 5],
    [500, 2],
  ],
  metric: [
    [0.01 * M, 10],
    [0.05 * M, 2],
    [0.1 * M, 5],
    [0.5 * M, 2],
    [1 * M, 5],
    [5 * M, 2],
    [10 * M, 5],
    [50 * M, 2],
    [100 * M, 5],
  ],
};

/** Lines nearer than this many pixels are a grey field, not a grid. */
const CLOSEST_PX = 9;
/** A hand can choose between places this many pixels apart. */
const FINEST_PX = 3;

/** The grid for a scale in pixels a foot. */
export function gridAt(scale: number, system: System): Grid {
  const all = steps[system];
  const from = (px: number) =>
    all.find(([s]) => s * scale >= px) ?? (all[all.length - 1] as readonly [number, number]);
  const [step, every] = from(CLOSEST_PX);
  const [snap] = from(FINEST_PX);
  const text = stepText(step, system) + (snap < step ? `, snaps to ${stepText(snap, system)}` : "");
  return { step, every, snap, text };
}

function stepText(step: number, system: System): string {
  if (system === "us") return step < 1 ? `${Math.round(step * 12)} in` : `${step} ft`;
  const m = Math.round((step / M) * 100) / 100;
  return m < 0.1 ? `${Math.round(m * 100)} cm` : `${m} m`;
}

/** The nearest multiple of a step; exact for whole steps. */
export function roundTo(n: number, step: number): number {
  const k = Math.round(n / step);
  // Dividing keeps 1 in exact at every twelfth: 24 * (1/12) is not 2, 24 / 12 is.
  return (
    (step < 1 && Number.isInteger(Math.round(1 / step)) && Math.abs(1 / step - Math.round(1 / step)) < 1e-9
      ? k / Math.round(1 / step)
      : k * step) + 0
  );
}

export const onGrid = (p: Point, step: number): Point => [roundTo(p[0], step), roundTo(p[1], step)];

/** How far one press of an arrow moves the crosshair or a nudge, in feet. */
export interface Steps {
  readonly small: number;
  readonly usual: number;
  readonly large: number;
}

/** The crosshair goes by the grid step when there is one, else by 1 ft or 0.5 m. */
export function crosshairSteps(grid: Grid | null, system: System): Steps {
  const usual = grid?.snap ?? (system === "us" ? 1 : M / 2);
  return { small: usual / 10, usual, large: usual * 10 };
}

/** Nudges go by 1 in and 1 ft, or 1 cm and 10 cm. */
export const nudgeSteps: Readonly<Record<System, Steps>> = {
  us: { small: 1 / 12, usual: 1 / 12, large: 1 },
  metric: { small: M / 100, usual: M / 100, large: M / 10 },
};
