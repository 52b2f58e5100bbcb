// What a picture on paper is read by: a bar of known length at the picture's own
// scale, the way north lies, and the plan's own 0, 0.

import { FEET_A_METRE } from "./conversions";
import type { System } from "./model";
import { s } from "./scene/svg";
import { toPixel, type View } from "./view";

/** Lengths a bar may have, in feet or metres. */
const steps = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10_000, 20_000];
/** The longest bar, in pixels. */
const MOST_PX = 200;

/** A bar: its length in feet and in words, and that of its half. */
export interface Bar {
  readonly feet: number;
  readonly half: string;
  readonly whole: string;
}

/** The longest bar of a round length that is not too long on a picture of so many pixels a foot. */
export function barFor(pixelsPerFoot: number, system: System): Bar {
  const unit = system === "metric" ? FEET_A_METRE : 1;
  const fits = steps.filter((n) => n * unit * pixelsPerFoot <= MOST_PX);
  const n = fits.at(-1) ?? 1;
  return { feet: n * unit, half: String(n / 2), whole: `${n} ${system === "metric" ? "m" : "ft"}` };
}

/** How far the arrow to true north is turned from up the sheet, clockwise as SVG turns. */
export const northTurn = (northDeg: number | undefined): number => -(northDeg ?? 0) || 0;

/** The bar with its figures, as long as the picture of this view has it. */
export function drawBar(view: View, system: System): SVGSVGElement {
  const bar = barFor(view.scale, system);
  const w = bar.feet * view.scale;
  const said = `Scale bar: ${bar.whole} on this picture`;
  return s(
    "svg",
    { class: "paper-bar", role: "img", "aria-label": said, width: w + 60, height: 26 },
    s("rect", { class: "dark", x: 10, y: 2, width: w / 2, height: 6 }),
    s("rect", { class: "pale", x: 10 + w / 2, y: 2, width: w / 2, height: 6 }),
    s("text", { x: 10, y: 21 }, "0"),
    s("text", { x: 10 + w / 2, y: 21 }, bar.half),
    s("text", { x: 10 + w, y: 21 }, bar.whole),
  );
}

/** The arrow to true north. */
export function drawNorth(northDeg: number | undefined): SVGSVGElement {
  return s(
    "svg",
    {
      class: "paper-north",
      role: "img",
      "aria-label": "True north",
      width: 40,
      height: 40,
      viewBox: "-20 -20 40 40",
    },
    s(
      "g",
      { transform: `rotate(${northTurn(northDeg)})` },
      s("path", { class: "dark", d: "M0 -8L6 16L0 11Z" }),
      s("path", { class: "pale", d: "M0 -8L-6 16L0 11Z" }),
      s("text", { x: 0, y: -10 }, "N"),
    ),
  );
}

/** The mark of the plan's 0, 0; null where the picture does not hold it. */
export function drawOrigin(view: View): SVGGElement | null {
  const { px, py } = toPixel(view, [0, 0]);
  if (px < 8 || py < 8 || px > view.width - 8 || py > view.height - 8) return null;
  return s(
    "g",
    { class: "paper-origin", "aria-hidden": "true" },
    s("path", { d: `M${px - 7} ${py}H${px + 7}M${px} ${py - 7}V${py + 7}` }),
    s("text", { x: px - 5, y: py + 11 }, "0, 0"),
  );
}
