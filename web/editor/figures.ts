// The figures that trenches, wire and parts are reckoned with: the usual ones, and
// the plan's own where it has them. Which there are the server says (web.FigureView).

import { CM_AN_INCH, FEET_A_METRE } from "./conversions";
import { parseNumber } from "./fields";
import { type Read, read, refuse } from "./length";
import type { OwnFigure, System } from "./model";

/** One figure as the server tells it. */
export interface FigureView {
  id: string;
  words: string;
  /** ft, in, each, share or nothing. */
  unit: string;
  /** As it is now and as it usually is, in the plan's units. */
  value: string;
  usual: string;
  /** Its unit as people read it. */
  in: string;
  most: number;
  source: string;
  edited: boolean;
}

/** The figures of one group. */
export interface FigureGroup {
  id: string;
  name: string;
  rows: FigureView[];
}

/** How much a unit of the row is of what is typed: a metric plan has metres and centimetres, a share is typed in percent. */
function timesOf(unit: string, show: System): number {
  if (unit === "share") return 1 / 100;
  if (show === "us") return 1;
  return unit === "ft" ? FEET_A_METRE : unit === "in" ? 1 / CM_AN_INCH : 1;
}

const trailing = /\s*(ft|'|in|"|m|cm|%|each)$/;

/** Reads what was typed of a figure; nothing is the usual one. */
export function readFigure(
  typed: string,
  source: string,
  row: Pick<FigureView, "unit" | "most" | "in">,
  show: System,
): Read<OwnFigure | null> {
  if (typed === "")
    return source === "" ? read(null) : refuse("Type the figure, or leave both empty for the usual one.");
  const times = timesOf(row.unit, show);
  const most = Number((row.most / times).toPrecision(6));
  const what = row.in ? `a figure in ${row.in}` : "a figure";
  const unit = trailing.exec(typed)?.[1];
  if (unit && unit !== row.in)
    return refuse(`This figure is in ${row.in || "no unit"}: type the number alone.`);
  const v = parseNumber(typed.replace(trailing, ""), what, 0, most);
  if (!v.ok) return v;
  const value = Number((v.value * times).toPrecision(9));
  return read(source === "" ? { value } : { value, source });
}

/** A figure of the plan's own as it was typed. */
export function figureText(value: number, unit: string, show: System): string {
  return String(Number((value / timesOf(unit, show)).toPrecision(6)));
}
