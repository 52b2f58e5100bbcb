// The plan document as the browser holds it, and how its things are reached.
// Lengths are feet, angles degrees anticlockwise from east; the Go package
// internal/plan owns the format.

import type { Patch } from "./merge";
import { type Lot, placeNamed, touchedPlaces } from "./places";

export { apply, clone, diff, isEmpty, type Json, type Patch, same } from "./merge";

/** A corner: x, y and, when the edge that leaves it is an arc, its bulge. */
export type Vertex = [number, number] | [number, number, number];
export type Outline = Vertex[];
export type Line = Vertex[];

export type Status = "new" | "existing" | "remove";
export type Kind = "planting" | "building" | "paving" | "ground" | "right_of_way" | "no_dig" | "water";
export type WateringKind = "overhead" | "point" | "by_hand" | "none";
export type System = "us" | "metric";

export interface Spot {
  x_ft: number;
  y_ft: number;
}

export interface Site {
  latitude_deg?: number;
  longitude_deg?: number;
  elevation_ft?: number;
  north_deg?: number;
  /** Wind of the windy day that is asked about; left out: 8. */
  wind_mph?: number;
  /** Where it comes from, anticlockwise from the plan's east; left out: true west. */
  wind_from_deg?: number;
  lot?: Outline;
  climate?: string;
  locate_on?: string;
  locate_ticket?: string;
}

export interface Area {
  name: string;
  kind: Kind;
  outline: Outline;
  holes?: Outline[];
  status?: Status;
  locked?: boolean;
  note?: string;
  height_ft?: number;
  planting?: string;
  mow_height_in?: number;
  soil?: string;
  slope?: number;
  slope_toward_deg?: number;
  exposure?: string;
  watering?: WateringKind;
}

export interface Barrier {
  name: string;
  kind?: string;
  line: Line;
  height_ft: number;
  status?: Status;
  locked?: boolean;
}

export interface Tree extends Spot {
  name: string;
  trunk_in: number;
  root_zone_ft?: number;
  status?: Status;
  locked?: boolean;
}

export interface KeepDry extends Spot {
  name: string;
  radius_ft?: number;
  status?: Status;
  locked?: boolean;
}

/** A spot height, above the plan's own level 0. */
export interface Elevation extends Spot {
  z_ft: number;
  status?: Status;
}

/** A distance measured between two places, kept to check the drawing. */
export interface Tie {
  from: Spot;
  to: Spot;
  distance_ft: number;
  status?: Status;
}

export interface Sensor extends Spot {
  kind: string;
  status?: Status;
  locked?: boolean;
}

export interface Supply {
  kind?: string;
  measured?: boolean;
  static_psi?: number;
  measured_at?: string;
  flow_gpm?: number;
  residual_psi?: number;
  design_flow_gpm?: number;
  design_flow_reason?: string;
  connection?: Spot;
  meter_in?: number;
  regulator?: boolean;
  backflow?: string;
  [other: string]: unknown;
}

export interface Head extends Spot {
  tag?: string;
  nozzle: string;
  body: string;
  start_deg?: number;
  sweep_deg?: number;
  throw_ft?: number;
  setback_ft?: number;
  zone?: string;
  status?: Status;
  locked?: boolean;
}

export interface Zone {
  name: string;
  station?: number;
  flag?: string;
  valve_at?: Spot;
  pressure_psi?: number;
  status?: Status;
  locked?: boolean;
}

export interface NozzleRow {
  pressure_psi: number;
  throw_ft: number;
  flow_gpm: number;
}

export interface StripShape {
  ahead: boolean;
  back: boolean;
  left_ft: number;
  right_ft: number;
}

export interface Nozzle {
  name: string;
  family: "spray" | "stream" | "rotor" | "strip";
  generic: boolean;
  source: string;
  arc_least_deg: number;
  arc_most_deg: number;
  flow_follows_arc: boolean;
  trajectory_deg: number;
  profile: { kind: string; shares?: number[] };
  strip?: StripShape;
  turn_down: { usual_share: number; least_share: number; flow_power: number };
  best_psi: number;
  rows: NozzleRow[];
  thread: string;
}

export interface Body {
  name: string;
  generic: boolean;
  source: string;
  height_in: number;
  regulated_psi?: number;
  check_valve: boolean;
  takes: string;
  inlet_in: number;
}

export interface Note extends Spot {
  text: string;
  status?: Status;
}

export interface Accepted {
  code: string;
  about?: string[];
  rank?: "stop" | "mend" | "note";
  reason: string;
  by?: string;
  on: string;
}

/** A place on a picture in its own pixels: x right, y down from the upper left corner as it is shown. */
export interface PicturePoint {
  x_px: number;
  y_px: number;
}

/** A distance known between two places on a picture. */
export interface KnownLength {
  from: PicturePoint;
  to: PicturePoint;
  distance_ft: number;
}

/** The picture under the drawing. Its place is that of its lower left corner, about which it is turned. */
export interface Underlay extends Spot {
  sha256: string;
  width_px?: number;
  height_px?: number;
  ft_per_px: number;
  rotate_deg?: number;
  /** 1 where absent. */
  opacity?: number;
  locked?: boolean;
  scaled_by?: KnownLength;
  checked_by?: KnownLength;
}

/** Plan mirrors internal/plan.Plan. Members this page never edits stay opaque. */
export interface Plan {
  format: string;
  name: string;
  show: System;
  site?: Site;
  options?: { edge_lip_ft?: number; wall_lip_ft?: number; cell_ft?: number };
  areas?: Record<string, Area>;
  barriers?: Record<string, Barrier>;
  trees?: Record<string, Tree>;
  keep_dry?: Record<string, KeepDry>;
  supply?: Supply;
  heads?: Record<string, Head>;
  zones?: Record<string, Zone>;
  nozzles?: Record<string, Nozzle>;
  bodies?: Record<string, Body>;
  notes?: Record<string, Note>;
  accepted?: Record<string, Accepted>;
  elevations?: Record<string, Elevation>;
  ties?: Record<string, Tie>;
  nodes?: Record<string, unknown>;
  pipes?: Record<string, unknown>;
  sleeves?: Record<string, unknown>;
  sensors?: Record<string, Sensor>;
  controller?: unknown;
  watering?: unknown;
  proof?: unknown;
  underlay?: Underlay;
}

/**
 * The collections the board draws and edits, with what each holds. Some have no
 * member of their own in the document: see places.ts.
 */
export interface Collections {
  site: Lot;
  areas: Area;
  barriers: Barrier;
  trees: Tree;
  keep_dry: KeepDry;
  heads: Head;
  zones: Zone;
  nozzles: Nozzle;
  bodies: Body;
  notes: Note;
  accepted: Accepted;
  elevations: Elevation;
  ties: Tie;
  sensors: Sensor;
  supply: Spot;
  controller: Spot;
  valves: Spot;
  underlay: Underlay;
}
export type Collection = keyof Collections;

/** Ref points at a thing of the plan: collection and id, as "heads/h7". */
export type Ref = `${Collection}/${string}`;

export const ref = (c: Collection, id: string): Ref => `${c}/${id}`;

/** Splits a Ref. */
export function parts(r: Ref): [Collection, string] {
  const cut = r.indexOf("/");
  return [r.slice(0, cut) as Collection, r.slice(cut + 1)];
}

type Things = Readonly<Record<string, unknown>>;

const thingsOf = (p: Plan, c: Collection): Things =>
  placeNamed(c)?.all(p) ?? ((p as unknown as Record<string, Things | undefined>)[c] || {});

/** The things of one collection; an absent collection reads as empty. */
export function items<C extends Collection>(p: Plan, c: C): Readonly<Record<string, Collections[C]>> {
  return thingsOf(p, c) as Record<string, Collections[C]>;
}

/** The ids of one collection, sorted, so that nothing depends on key order. */
export const ids = (p: Plan, c: Collection): string[] => Object.keys(thingsOf(p, c)).sort();

/** The thing a Ref points at, if the plan still has it. */
export function find<C extends Collection>(p: Plan, c: C, id: string): Collections[C] | undefined {
  const all = items(p, c);
  return Object.hasOwn(all, id) ? all[id] : undefined;
}

export function has(p: Plan, r: Ref): boolean {
  const [c, id] = parts(r);
  return find(p, c, id) !== undefined;
}

/** A plan with one thing put in (or replaced). The given plan is unchanged. */
export function put<C extends Collection>(p: Plan, c: C, id: string, thing: Collections[C]): Plan {
  return placeNamed(c)?.put(p, id, thing) ?? { ...p, [c]: { ...thingsOf(p, c), [id]: thing } };
}

/** A thing to be put in, and where. */
export interface Change {
  readonly in: Collection;
  readonly id: string;
  readonly thing: Collections[Collection];
}

/** A plan with many things put in at once: one copy of each collection, however many. */
export function putMany(p: Plan, changes: readonly Change[]): Plan {
  let next = p;
  const members = new Map<Collection, Map<string, unknown>>();
  for (const { in: c, id, thing } of changes) {
    if (placeNamed(c)) {
      next = put(next, c, id, thing);
      continue;
    }
    const all = members.get(c) ?? new Map(Object.entries(thingsOf(p, c)));
    members.set(c, all.set(id, thing));
  }
  for (const [c, all] of members) next = { ...next, [c]: Object.fromEntries(all) };
  return next;
}

/** A plan with things of one collection changed, each by itself; what it lacks stays lacking. */
export function changeMany<C extends Collection>(
  p: Plan,
  c: C,
  of: readonly string[],
  change: (thing: Collections[C], id: string) => Collections[C],
): Plan {
  const changes = of.flatMap((id): Change[] => {
    const thing = find(p, c, id);
    return thing ? [{ in: c, id, thing: change(thing, id) }] : [];
  });
  return putMany(p, changes);
}

/** A plan without one thing. The given plan is unchanged. */
export function drop(p: Plan, c: Collection, id: string): Plan {
  const place = placeNamed(c);
  if (place) return place.drop(p, id);
  const { [id]: _gone, ...rest } = thingsOf(p, c);
  return { ...p, [c]: rest };
}

/** A plan without many things: one copy of each collection, however many. */
export function dropMany(p: Plan, refs: Iterable<Ref>): Plan {
  let next = p;
  const gone = new Map<Collection, Set<string>>();
  for (const r of refs) {
    const [c, id] = parts(r);
    if (placeNamed(c)) next = drop(next, c, id);
    else gone.set(c, (gone.get(c) ?? new Set()).add(id));
  }
  for (const [c, all] of gone) {
    const left = Object.entries(thingsOf(p, c)).filter(([id]) => !all.has(id));
    next = { ...next, [c]: Object.fromEntries(left) };
  }
  return next;
}

/** The first letter of new ids, by collection; what there is one of has no id to be made. */
const letters: Partial<Record<Collection, string>> = {
  areas: "a",
  barriers: "b",
  trees: "t",
  keep_dry: "k",
  heads: "h",
  zones: "z",
  nozzles: "n",
  bodies: "o",
  notes: "m",
  accepted: "c",
  elevations: "e",
  ties: "i",
  sensors: "s",
};

/** Whether a collection takes any number of things. */
export const takesMore = (c: Collection): boolean => letters[c] !== undefined;

const alphabet = "0123456789abcdefghjkmnpqrstvwxyz";

/**
 * An id for a new thing: the collection's letter and six random characters. An
 * id is never used again after its thing is gone, and no counter could promise
 * that across tabs; a billion random ids do.
 */
export function newID(p: Plan, c: Collection): string {
  for (;;) {
    const bytes = crypto.getRandomValues(new Uint8Array(6));
    const id = (letters[c] ?? "x") + Array.from(bytes, (b) => alphabet[b & 31]).join("");
    if (find(p, c, id) === undefined) return id;
  }
}

const named = new Set<string>([
  "areas",
  "barriers",
  "trees",
  "keep_dry",
  "heads",
  "zones",
  "notes",
  "elevations",
  "ties",
  "sensors",
]);

/** The things a patch touches. */
export function touched(patch: Patch): Ref[] {
  const out = touchedPlaces(patch) as Ref[];
  for (const [c, things] of Object.entries(patch)) {
    if (!named.has(c) || things === null || typeof things !== "object") continue;
    for (const id of Object.keys(things)) out.push(`${c}/${id}` as Ref);
  }
  return out.sort();
}
