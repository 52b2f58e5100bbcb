// What can be typed about a catch can.

import { auditOf, canOrder, partsOfCan } from "./audits";
import { type Context, coordinate, type Field, setAll, text, yes } from "./fields";
import { type Read, read, refuse } from "./length";
import { find, type Plan } from "./model";
import { type Measure, measures } from "./yard/measures";

/** Whether the cans of an audit are marked by depth. */
const byDepth = (p: Plan, id: string): boolean => auditOf(p, partsOfCan(id)[0])?.scale === "depth";

/** What a catch is read by, and the member that keeps it. */
const scaleOf = (p: Plan, id: string): { key: "catch_ml" | "depth_in"; as: Measure } =>
  byDepth(p, id) ? { key: "depth_in", as: measures.depth } : { key: "catch_ml", as: measures.ml };

/** A catch as it stands in a field; "" while it is not read. */
export function catchText(p: Plan, id: string): string {
  const { key, as } = scaleOf(p, id);
  return as.text(find(p, "cans", id)?.[key], p.show);
}

/** The unit catches of an audit are typed in. */
export const catchUnit = (p: Plan, id: string): string => scaleOf(p, id).as.unit(p.show);

/** A plan with what one can caught; empty: not read. */
export function withCatch(p: Plan, id: string, typed: string): Read<Plan> {
  const { key, as } = scaleOf(p, id);
  const v = as.read(typed, p.show);
  return v.ok ? read(setAll(p, "cans", [id], key, v.value)) : v;
}

/** What a line of pasted catches is: a catch, perhaps after the number of its can. */
interface Pasted {
  /** From 1; null: the next. */
  readonly number: number | null;
  readonly typed: string;
}

/** The lines of a pasted column, or of two: number and catch. A heading is passed over, empty cells are cans not read. */
export function pastedCatches(text: string): Pasted[] {
  const lines = text.replace(/\r\n?/g, "\n").replace(/\n+$/, "").split("\n");
  if (lines.length > 1 && !/\d/.test(lines[0] ?? "")) lines.shift();
  return lines.map((line) => {
    const two = /^\s*(\d+)\s*[\t;,]\s*(.*)$/.exec(line);
    return two
      ? { number: Number(two[1]), typed: (two[2] ?? "").trim() }
      : { number: null, typed: line.trim() };
  });
}

/**
 * A plan with the catches of a pasted column, from one can on; null when what was pasted
 * is a single figure. Where a line cannot be, nothing is taken.
 */
export function withPasted(
  p: Plan,
  audit: string,
  from: string,
  text: string,
): Read<{ plan: Plan; taken: number }> | null {
  const lines = pastedCatches(text);
  if (lines.length < 2) return null;
  const order = canOrder(auditOf(p, audit));
  let at = order.indexOf(from);
  let plan = p;
  for (const [i, line] of lines.entries()) {
    const where = `Line ${i + 1} of what was pasted`;
    if (line.number !== null) at = line.number - 1;
    const can = order[at++];
    if (can === undefined) {
      const cans = `${order.length} ${order.length === 1 ? "can" : "cans"}`;
      return refuse(`${where} has no can: the audit has ${cans}. Nothing was taken.`);
    }
    const next = withCatch(plan, `${audit}.${can}`, line.typed);
    if (!next.ok) return refuse(`${where}: ${next.sentence} Nothing was taken.`);
    plan = next.value;
  }
  return read({ plan, taken: lines.length });
}

const caught: Field = {
  key: "catch_ml",
  label: "Caught",
  as: "text",
  empty: "not read",
  hint: (p) => (p.show === "metric" ? "ml, or mm" : "ml, or in"),
  get: ({ plan }: Context, id) => catchText(plan, id),
  set: ({ plan }, ids, typed) => {
    let next = plan;
    for (const id of ids) {
      const v = withCatch(next, id, typed);
      if (!v.ok) return v;
      next = v.value;
    }
    return read(next);
  },
};

export const canFields: readonly Field[] = [
  caught,
  coordinate("cans", "x_ft", "X, east"),
  coordinate("cans", "y_ft", "Y, north"),
  yes("cans", "left_out", "Left out of the sums"),
  text("cans", "note", "Note"),
];
