// What can be typed about a catch can.

import { auditOf, partsOfCan } from "./audits";
import { type Context, coordinate, type Field, setAll, text, yes } from "./fields";
import { type Read, read } from "./length";
import { find, type Plan } from "./model";
import { catchDepth, catchVolume, type Quantity, readQuantity, showQuantity } from "./quantity";

/** The most a can may have caught, in ml and in inches: the plan takes no more. */
const MOST = { catch_ml: 100_000, depth_in: 100 } as const;

/** Whether the cans of an audit are marked by depth. */
const byDepth = (p: Plan, id: string): boolean => auditOf(p, partsOfCan(id)[0])?.scale === "depth";

/** What a catch is read by, and the member that keeps it. */
function scaleOf(p: Plan, id: string): { key: keyof typeof MOST; q: Quantity } {
  return byDepth(p, id) ? { key: "depth_in", q: catchDepth } : { key: "catch_ml", q: catchVolume };
}

/** A catch as it stands in a field; "" while it is not read. */
export function catchText(p: Plan, id: string): string {
  const { key, q } = scaleOf(p, id);
  return showQuantity(find(p, "cans", id)?.[key], q, p.show);
}

/** The unit catches of an audit are typed in. */
export const catchUnit = (p: Plan, id: string): string => scaleOf(p, id).q.bare[p.show];

/** What was typed as a catch, by the member that keeps it; empty is not read. */
export function readCatch(p: Plan, id: string, typed: string): Read<number | undefined> {
  if (typed.trim() === "") return read(undefined);
  const { key, q } = scaleOf(p, id);
  return readQuantity(typed, q, p.show, 0, MOST[key]);
}

/** A plan with what one can caught; empty: not read. */
export function withCatch(p: Plan, id: string, typed: string): Read<Plan> {
  const v = readCatch(p, id, typed);
  return v.ok ? read(setAll(p, "cans", [id], scaleOf(p, id).key, v.value)) : v;
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
