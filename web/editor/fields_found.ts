// What can be typed about how things were found in the ground: a head's state, and
// where a head, valve, sleeve or splice box went, once that was measured.

import type { Context, Field } from "./fields";
import { civilDate } from "./findings";
import { angleText, placeText } from "./format";
import { normDeg } from "./geometry";
import { parseAngle, type Read, read, refuse } from "./length";
import type { Collection, Plan, Spot } from "./model";
import { isDay } from "./panels/diggingfields";
import type { HeadFault, HeadState } from "./proof";
import { measures } from "./yard/measures";
import {
  builtOf,
  dropBuilt,
  setBuilt,
  setState,
  stateOf,
  toggleFault,
  type Placed as Went,
} from "./yard/records";

/** What is wrong with a head, by the words of the document. */
export const faultNames: Readonly<Record<HeadFault, string>> = {
  tilted: "Leans",
  sunk: "Sunk, or too high",
  blocked: "Blocked",
  worn: "Worn",
  leaking: "Leaks",
  stuck: "Does not turn, rise or sink back",
  wrong_nozzle: "Wrong nozzle",
  off_target: "Aimed past its area",
  hidden: "Something stands in its way",
};

const FOUND = "How it was found";
const BUILT = "As built";

/** Reads a day, or nothing. */
function dayRead(typed: string): Read<string | undefined> {
  const day = typed.trim();
  if (day === "") return read(undefined);
  return isDay(day) ? read(day) : refuse("Type the day as 2026-05-31, or leave it empty.");
}

/** Changes each of several things in turn; the first that cannot be stops it. */
function each(p: Plan, ids: readonly string[], change: (p: Plan, id: string) => Plan): Read<Plan> {
  return read(ids.reduce(change, p));
}

/** A field that is one member of a head's state. */
function found<K extends keyof HeadState>(
  key: K,
  label: string,
  show: (v: HeadState[K]) => string,
  typed: (text: string) => Read<HeadState[K]>,
  more: Partial<Field> = {},
): Field {
  return {
    key: `state_${key}`,
    label,
    as: "text",
    under: FOUND,
    get: ({ plan }, id) => show(stateOf(plan, id)[key]),
    set: ({ plan }, ids, text) => {
      const v = typed(text);
      return v.ok ? each(plan, ids, (p, id) => setState(p, id, { [key]: v.value })) : v;
    },
    ...more,
  };
}

const plain = (v: string | undefined): string => v ?? "";

const words =
  (label: string) =>
  (typed: string): Read<string | undefined> => {
    const t = typed.trim();
    return t.length > 2000
      ? refuse(`${label} has ${t.length} characters. Shorten it to 2,000.`)
      : read(t || undefined);
  };

const isFaulty =
  (fault: HeadFault) =>
  ({ plan }: Context, id: string): boolean =>
    stateOf(plan, id).faults?.includes(fault) ?? false;

/** A tick box for each fault. */
const faultFields: readonly Field[] = (Object.keys(faultNames) as HeadFault[]).map((fault) => ({
  key: `fault_${fault}`,
  label: faultNames[fault],
  as: "yes",
  under: FOUND,
  get: (c, id) => (isFaulty(fault)(c, id) ? "yes" : ""),
  set: ({ plan, catalog }, ids, typed) => {
    const wanted = typed === "yes";
    const today = civilDate(new Date());
    const others = ids.filter((id) => isFaulty(fault)({ plan, catalog }, id) !== wanted);
    return each(plan, others, (p, id) => toggleFault(p, id, fault, today));
  },
}));

const tilt: Field = found(
  "tilt_deg",
  "Leans by",
  (v) => (v === undefined ? "" : angleText(v)),
  (typed) => {
    if (typed.trim() === "") return read(undefined);
    const v = parseAngle(typed);
    if (v.ok && (v.value < 0 || v.value > 90))
      return refuse("A head leans by 0 to 90°. Type how far from upright.");
    return v;
  },
  { hint: () => "° from upright", has: isFaulty("tilted") },
);

const toward: Field = found(
  "tilt_toward_deg",
  "Toward",
  (v) => (v === undefined ? "" : angleText(v)),
  (typed) => {
    if (typed.trim() === "") return read(undefined);
    const v = parseAngle(typed);
    return v.ok ? read(normDeg(v.value)) : v;
  },
  { hint: () => "° anticlockwise from east", has: isFaulty("tilted") },
);

/** How a head was found by somebody walking the yard. */
export const stateFields: readonly Field[] = [
  found("set_on", "Set as drawn on", plain, dayRead, { hint: () => "day", empty: "not yet" }),
  ...faultFields,
  tilt,
  toward,
  found("nozzle", "Nozzle seen in it", plain, words("The nozzle"), { has: isFaulty("wrong_nozzle") }),
  found("seen_on", "Seen on", plain, dayRead, {
    hint: () => "day",
    has: ({ plan }, id) => (stateOf(plan, id).faults ?? []).length > 0,
  }),
  found("note", "Remark", plain, words("The remark")),
];

/** The collection that keeps where a thing went: of a valve its zone's. */
export const keeperOf = (c: Collection): Went | null =>
  c === "valves" ? "zones" : c === "heads" || c === "boxes" || c === "sleeves" ? c : null;

/** Where a thing was drawn, if it went elsewhere: a place, or the two of a sleeve. */
export function drawnAt(p: Plan, c: Went, id: string): string {
  const b = builtOf(p, c, id);
  const at = (s: Spot): string => placeText([s.x_ft, s.y_ft], p.show);
  return [b?.was, b?.was_to].flatMap((s) => (s ? [at(s)] : [])).join(" to ");
}

/** Where things of a collection went. */
export function builtFields(c: "heads" | "valves" | "boxes" | "sleeves"): readonly Field[] {
  const of = keeperOf(c) as Went;
  const isBuilt = ({ plan }: Context, id: string): boolean => builtOf(plan, of, id) !== undefined;
  return [
    {
      key: "built_on",
      label: "Place measured on",
      as: "text",
      under: BUILT,
      hint: () => "day",
      empty: "not yet",
      get: ({ plan }, id) => builtOf(plan, of, id)?.on ?? "",
      set: ({ plan }, ids, typed) => {
        const v = dayRead(typed);
        if (!v.ok) return v;
        const on = v.value;
        return each(plan, ids, (p, id) => (on ? setBuilt(p, of, id, { on }) : dropBuilt(p, of, id)));
      },
    },
    {
      key: "built_depth_in",
      label: "Depth of its top",
      as: "text",
      under: BUILT,
      hint: (p) => measures.under.unit(p.show),
      has: isBuilt,
      get: ({ plan }, id) => measures.under.text(builtOf(plan, of, id)?.depth_in, plan.show),
      set: ({ plan }, ids, typed) => {
        const v = measures.under.read(typed, plan.show);
        return v.ok ? each(plan, ids, (p, id) => noted(p, of, id, { depth_in: v.value })) : v;
      },
    },
    {
      key: "built_note",
      label: "Remark on its place",
      as: "text",
      under: BUILT,
      has: isBuilt,
      get: ({ plan }, id) => builtOf(plan, of, id)?.note ?? "",
      set: ({ plan }, ids, typed) => {
        const v = words("The remark")(typed);
        return v.ok ? each(plan, ids, (p, id) => noted(p, of, id, { note: v.value })) : v;
      },
    },
  ];
}

/** A plan with something more said of where a thing went; of what was not measured nothing is. */
function noted(p: Plan, of: Went, id: string, more: { depth_in?: number; note?: string }): Plan {
  const on = builtOf(p, of, id)?.on;
  return on === undefined ? p : setBuilt(p, of, id, { on, ...more });
}
