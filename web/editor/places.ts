// Where the document keeps the things that are not members of a collection of
// their own: the property line, the places of valves, controller and supply, and
// the cans of audits. Everything else reads and writes them like any other thing.

import { cansOf, touchedCans, withCan, withoutCan } from "./audits";
import type { Outline, Plan, Spot, Underlay } from "./model";
import type { CatchCan } from "./proof";

/** The property line as a thing: there is at most one, "site/lot". */
export interface Lot {
  outline: Outline;
}

export interface Place {
  all(p: Plan): Readonly<Record<string, unknown>>;
  put(p: Plan, id: string, thing: unknown): Plan;
  drop(p: Plan, id: string): Plan;
}

const lots = new WeakMap<Outline, Lot>();

/** One object for one outline, so that what is drawn from it is not drawn again. */
function lotOf(outline: Outline): Lot {
  const known = lots.get(outline);
  if (known) return known;
  const made = { outline };
  lots.set(outline, made);
  return made;
}

type Members = Record<string, unknown>;

const without = (o: object | undefined, key: string): Members => {
  const { [key]: _gone, ...rest } = (o ?? {}) as Members;
  return rest;
};

/** Places kept as members of one object of the document. */
function membersOf(at: "supply" | "controller", names: readonly string[]): Place {
  return {
    all: (p) => {
      const o = (p[at] ?? {}) as Members;
      return Object.fromEntries(names.filter((n) => o[n] !== undefined).map((n) => [n, o[n]]));
    },
    put: (p, id, thing) => ({ ...p, [at]: { ...((p[at] ?? {}) as Members), [id]: thing } }),
    drop: (p, id) => ({ ...p, [at]: without(p[at] as object | undefined, id) }),
  };
}

export const places = {
  site: {
    all: (p) => (p.site?.lot?.length ? { lot: lotOf(p.site.lot) } : {}),
    put: (p, _id, thing) => ({ ...p, site: { ...p.site, lot: (thing as Lot).outline } }),
    drop: (p) => ({ ...p, site: without(p.site, "lot") }),
  },
  underlay: {
    all: (p) => (p.underlay ? { picture: p.underlay } : {}),
    put: (p, _id, thing) => ({ ...p, underlay: thing as Underlay }),
    drop: (p) => without(p, "underlay") as unknown as Plan,
  },
  cans: {
    all: cansOf,
    put: (p, id, thing) => withCan(p, id, thing as CatchCan),
    drop: withoutCan,
  },
  supply: membersOf("supply", ["connection", "backflow_at"]),
  controller: membersOf("controller", ["at", "outlet_at"]),
  valves: {
    all: (p) =>
      Object.fromEntries(
        Object.entries(p.zones ?? {}).flatMap(([id, z]) => (z.valve_at ? [[id, z.valve_at]] : [])),
      ),
    put: (p, id, thing) => {
      const zone = p.zones?.[id];
      return zone ? { ...p, zones: { ...p.zones, [id]: { ...zone, valve_at: thing as Spot } } } : p;
    },
    drop: (p, id) => {
      const zone = p.zones?.[id];
      if (!zone) return p;
      const { valve_at: _gone, ...rest } = zone;
      return { ...p, zones: { ...p.zones, [id]: rest } };
    },
  },
} as const satisfies Record<string, Place>;

/** Where the controller is plugged in: it has no status of its own. */
export const OUTLET = "controller/outlet_at";

export type PlaceName = keyof typeof places;

/** How to reach the things of a collection the document has no member for; undefined for all others. */
export const placeNamed = (c: string): Place | undefined =>
  Object.hasOwn(places, c) ? places[c as PlaceName] : undefined;

/**
 * The things of such places that a patch touches, as refs. The picture under the
 * drawing is left out: taking back its fading should not select it or move the view.
 */
export function touchedPlaces(patch: Readonly<Record<string, unknown>>): string[] {
  const has = (c: string, member: string) => {
    const o = patch[c];
    return typeof o === "object" && o !== null && Object.hasOwn(o, member);
  };
  const out: string[] = [];
  if (has("site", "lot")) out.push("site/lot");
  for (const m of ["connection", "backflow_at"]) if (has("supply", m)) out.push(`supply/${m}`);
  for (const m of ["at", "outlet_at"]) if (has("controller", m)) out.push(`controller/${m}`);
  out.push(...touchedCans(patch));
  return out;
}
