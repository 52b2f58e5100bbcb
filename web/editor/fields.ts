// What can be typed about the things of a plan: one description per member,
// used by the table of objects and by the panel of what is selected alike.
// Everything is text here: shown as text, typed as text, refused with a
// sentence.

import type { Catalog } from "./api";
import { coordText } from "./corners";
import { angleText, lengthText } from "./format";
import { parseAngle, parseCoordinate, parseLength, type Read, read, refuse } from "./length";
import {
  type Collection,
  type Collections,
  changeMany,
  find,
  type Plan,
  type Ref,
  ref,
  type Spot,
  type Status,
} from "./model";
import { setStatus, statusOf } from "./statuses";
import type { Placed } from "./things";

export interface Context {
  plan: Plan;
  catalog: Catalog;
}

export interface Choice {
  value: string;
  label: string;
  /** What it is listed under, where a list is long. */
  group?: string;
}

export interface Field {
  key: string;
  label: string;
  /** How it is typed. "yes" is a tick box whose text is "yes" or "". */
  as: "text" | "long" | "choice" | "yes";
  /** A unit or a hint shown after the label. */
  hint?: (p: Plan) => string;
  /** Makes no sense for several things at once. */
  single?: boolean;
  /** What an empty field means, shown faintly in it. */
  empty?: string;
  /** The heading it is folded under, where it is seldom asked for. */
  under?: string;
  get(c: Context, id: string): string;
  /** A plan with what was typed set on all the things, or why it cannot be. */
  set(c: Context, ids: readonly string[], typed: string): Read<Plan>;
  choices?(c: Context, ids: readonly string[]): Choice[];
  /** Whether the thing has this member at all; always, when absent. */
  has?(c: Context, id: string): boolean;
}

/** A thing with one member set, or without it. */
export function withMember<T extends object>(thing: T, key: keyof T, value: unknown): T {
  const next = { ...thing };
  if (value === undefined) delete next[key];
  else next[key] = value as T[keyof T];
  return next;
}

/** A plan with one member set on several things. */
export function setAll<C extends Collection>(
  p: Plan,
  c: C,
  ids: readonly string[],
  key: keyof Collections[C],
  value: unknown,
): Plan {
  return changeMany(p, c, ids, (thing) => withMember(thing as Collections[C] & object, key, value));
}

type Reader = (typed: string, p: Plan) => Read<unknown>;
type Shower = (value: unknown, p: Plan) => string;

interface Shape {
  as?: Field["as"];
  hint?: Field["hint"];
  has?: Field["has"];
  choices?: Field["choices"];
  empty?: string;
  under?: string;
}

/** A field that is one member of its thing. */
export function member<C extends Collection>(
  c: C,
  key: keyof Collections[C] & string,
  label: string,
  show: Shower,
  reader: Reader,
  shape: Shape = {},
): Field {
  return {
    key,
    label,
    as: shape.as ?? "text",
    hint: shape.hint,
    has: shape.has,
    choices: shape.choices,
    empty: shape.empty,
    under: shape.under,
    get: ({ plan }, id) => show((find(plan, c, id) as Record<string, unknown> | undefined)?.[key], plan),
    set: ({ plan }, ids, typed) => {
      const v = reader(typed, plan);
      return v.ok ? read(setAll(plan, c, ids, key, v.value)) : v;
    },
  };
}

const asText: Shower = (v) => (v === undefined ? "" : String(v));

const lengthUnit = (p: Plan): string => (p.show === "metric" ? "m" : "ft");

/** Words of at most 2,000 characters; `needed` when they may not be empty. */
export function text<C extends Collection>(
  c: C,
  key: keyof Collections[C] & string,
  label: string,
  needed = false,
): Field {
  return member(c, key, label, asText, (typed) => {
    const t = typed.trim();
    if (t.length > 2000) return refuse(`${label} has ${t.length} characters. Shorten it to 2,000.`);
    if (needed && t === "") return refuse(`${label} is empty. Type a few words.`);
    return read(t === "" && !needed ? undefined : t);
  });
}

/** A place along one axis. */
export function coordinate<C extends Placed>(c: C, key: "x_ft" | "y_ft", label: string): Field {
  return member(
    c,
    key as keyof Collections[C] & string,
    label,
    (v, p) => (typeof v === "number" ? coordText(v, p.show) : ""),
    (typed, p) => parseCoordinate(typed, p.show),
    { hint: lengthUnit },
  );
}

/** One coordinate of an end of what lies between two. The first end goes by the names of places, as things with one place do. */
export function end<C extends "ties" | "sleeves">(
  c: C,
  which: "from" | "to",
  axis: keyof Spot,
  label: string,
): Field {
  return {
    key: which === "from" ? axis : `to_${axis}`,
    label,
    as: "text",
    hint: lengthUnit,
    get: ({ plan }, id) => {
      const t = find(plan, c, id);
      return t ? coordText(t[which][axis], plan.show) : "";
    },
    set: ({ plan }, ids, typed) => {
      const v = parseCoordinate(typed, plan.show);
      if (!v.ok) return v;
      const moved = (t: Collections[C]) => ({ ...t, [which]: { ...t[which], [axis]: v.value } });
      return read(changeMany(plan, c, ids, moved));
    },
  };
}

interface Range {
  least: number;
  most: number;
  /** What an empty field means; without it the field may not be empty. */
  empty?: "default";
}

/** A length of its own, such as a height or a radius; limits in feet. */
export function length<C extends Collection>(
  c: C,
  key: keyof Collections[C] & string,
  label: string,
  range: Range,
  shape: Shape = {},
): Field {
  return member(
    c,
    key,
    label,
    (v, p) => (typeof v === "number" ? lengthText(v, p.show) : ""),
    (typed, p) => {
      if (typed.trim() === "" && range.empty) return read(undefined);
      const v = parseLength(typed, p.show);
      if (!v.ok || (v.value >= range.least && v.value <= range.most)) return v;
      const [lo, hi] = [lengthText(range.least, p.show), lengthText(range.most, p.show)];
      return refuse(`${label} is ${lengthText(v.value, p.show)}. Type a length from ${lo} to ${hi}.`);
    },
    { hint: lengthUnit, ...shape },
  );
}

/** A direction or an arc in degrees. */
export function angle<C extends Collection>(
  c: C,
  key: keyof Collections[C] & string,
  label: string,
  finish: (deg: number) => Read<number>,
  shape: Shape = {},
): Field {
  return member(
    c,
    key,
    label,
    (v) => (typeof v === "number" ? angleText(v) : ""),
    (typed) => {
      const v = parseAngle(typed);
      return v.ok ? finish(v.value) : v;
    },
    { hint: () => "°", ...shape },
  );
}

const plainNumber = /^[+-]?(\d+\.?\d*|\.\d+)$/;

/** A plain number within limits. */
export function parseNumber(typed: string, what: string, least: number, most: number): Read<number> {
  const t = typed.trim();
  if (!plainNumber.test(t)) return refuse(`“${t}” is not a number. Type ${what} from ${least} to ${most}.`);
  const n = Number(t);
  if (n < least || n > most) return refuse(`${t} is out of reach. Type ${what} from ${least} to ${most}.`);
  return read(n);
}

/** A share as it is typed, in percent; none is nothing. */
export const percentText = (v: unknown): string =>
  typeof v === "number" ? String(Number((v * 100).toFixed(2))) : "";

/** Reads a share typed in percent; empty is none. */
export function readPercent(
  typed: string,
  what: string,
  least: number,
  most: number,
): Read<number | undefined> {
  if (typed.trim() === "") return read(undefined);
  const v = parseNumber(typed.replace("%", ""), `${what} in percent,`, least, most);
  return v.ok ? read(v.value / 100) : v;
}

/** One of a fixed list of words. The first is what an absent member means. */
export function choice<C extends Collection>(
  c: C,
  key: keyof Collections[C] & string,
  label: string,
  list: readonly (readonly [value: string, label: string])[],
  shape: Shape = {},
): Field {
  return member(
    c,
    key,
    label,
    (v) => (typeof v === "string" && v !== "" ? v : (list[0]?.[0] ?? "")),
    (typed) => read(typed === "" ? undefined : typed),
    { as: "choice", choices: () => list.map(([value, name]) => ({ value, label: name })), ...shape },
  );
}

/** A tick box. */
export function yes<C extends Collection>(
  c: C,
  key: keyof Collections[C] & string,
  label: string,
  shape: Shape = {},
): Field {
  return member(
    c,
    key,
    label,
    (v) => (v === true ? "yes" : ""),
    (typed) => read(typed === "yes" ? true : undefined),
    { as: "yes", ...shape },
  );
}

/** The status of what keeps it in another place than its own thing: a valve's is its zone's. */
export const statusField = (c: Collection): Field => ({
  key: "status",
  label: "Status",
  as: "choice",
  get: ({ plan }, id) => statusOf(plan, ref(c, id)) ?? "",
  set: ({ plan }, ids, typed) =>
    read(
      setStatus(
        plan,
        ids.map((id) => ref(c, id)),
        typed as Status,
      ),
    ),
  choices: () => statuses.map(([value, label]) => ({ value, label })),
});

/** The status of things of several kinds at once; ids are refs here. */
export const sharedStatus: Field = {
  ...statusField("areas"),
  get: ({ plan }, id) => statusOf(plan, id as Ref) ?? "",
  set: ({ plan }, ids, typed) => read(setStatus(plan, ids as readonly Ref[], typed as Status)),
};

export const statuses = [
  ["new", "New"],
  ["existing", "Existing"],
  ["remove", "To be removed"],
] as const;
