// What can be typed about the picture under the drawing.

import { coordText } from "./corners";
import { type Field, member, parseNumber, yes } from "./fields";
import { angleText, lengthText } from "./format";
import { parseAngle, parseCoordinate, parseLength, type Read, read } from "./length";
import type { Plan, Underlay } from "./model";
import { isSized, scaled, turnedTo } from "./picture";

const lengthUnit = (p: Plan): string => (p.show === "metric" ? "m" : "ft");

const place = (key: "x_ft" | "y_ft", label: string): Field =>
  member(
    "underlay",
    key,
    label,
    (v, p) => (typeof v === "number" ? coordText(v, p.show) : ""),
    (typed, p) => parseCoordinate(typed, p.show),
    { hint: lengthUnit },
  );

/** A field that is worked out from the picture as a whole. */
function derived(
  key: string,
  label: string,
  hint: Field["hint"],
  get: (u: Underlay, p: Plan) => string,
  set: (u: Underlay, typed: string, p: Plan) => Read<Underlay>,
): Field {
  return {
    key,
    label,
    as: "text",
    hint,
    get: ({ plan }) => (plan.underlay ? get(plan.underlay, plan) : ""),
    set: ({ plan }, _ids, typed) => {
      if (!plan.underlay) return read(plan);
      const next = set(plan.underlay, typed, plan);
      return next.ok ? read({ ...plan, underlay: next.value }) : next;
    },
  };
}

/** Its width on the ground: scaling by a line from edge to edge. */
const width = derived(
  "width",
  "Width",
  lengthUnit,
  (u, p) => (u.width_px ? lengthText(u.width_px * u.ft_per_px, p.show) : ""),
  (u, typed, p) => {
    const v = parseLength(typed, p.show);
    if (!v.ok) return v;
    const y_px = isSized(u) ? u.height_px : 0; // along the lower edge, whose corner gives the place
    const [from, to] = [
      { x_px: 0, y_px },
      { x_px: u.width_px ?? 0, y_px },
    ];
    return scaled(u, { from, to, distance_ft: v.value }, p.show);
  },
);

const turn = derived(
  "rotate_deg",
  "Turned by",
  () => "°, anticlockwise",
  (u) => angleText(u.rotate_deg ?? 0),
  (u, typed) => {
    const v = parseAngle(typed);
    return v.ok ? turnedTo(u, v.value) : v;
  },
);

/** The faintest a picture is shown, in per cent: fainter would be hidden without saying so. */
export const FAINTEST_PERCENT = 5;

const strength = derived(
  "opacity",
  "Strength",
  () => "%, 100 is unfaded",
  (u) => String(Math.round((u.opacity ?? 1) * 100)),
  (u, typed) => {
    const v = parseNumber(typed.replace(/\s*%$/, ""), "per cent", FAINTEST_PERCENT, 100);
    return v.ok ? read(withStrength(u, v.value)) : v;
  },
);

/** The picture at a strength in per cent. */
export function withStrength(u: Underlay, percent: number): Underlay {
  const { opacity: _old, ...rest } = u;
  return percent >= 100 ? rest : { ...rest, opacity: Math.round(percent) / 100 };
}

export const pictureFields: readonly Field[] = [
  place("x_ft", "X of the lower left"),
  place("y_ft", "Y of the lower left"),
  width,
  turn,
  strength,
  yes("underlay", "locked", "Locked in place"),
];
