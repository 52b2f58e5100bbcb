// The plan document as the browser holds it, and how its things are reached.
// Lengths are feet, angles degrees anticlockwise from east; the Go package
// internal/plan owns the format.

import type { Patch } from "./merge";
import { type Lot, placeNamed, touchedPlaces } from "./places";
import type { Built, CatchCan, HeadState, Photo, Proof, ZoneRun } from "./proof";

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
  address?: string;
  permit?: string;
  permit_on?: string;
  licence?: string;
  association_on?: string;
  right_of_way_on?: string;
  backflow_tested_on?: string;
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
  /** For the watering plan, as the rest: its need over reference ET; left out, by its planting. */
  plant_factor?: number;
  density_factor?: number;
  microclimate?: number;
  roots_in?: number;
  depletion?: number;
  plant_height_in?: number;
  /** What other zones throw over is not counted. */
  own_zones_only?: boolean;
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
  /** Above the ground; left out: not said. */
  height_ft?: number;
  /** It needs no wire. */
  wireless?: boolean;
  status?: Status;
  locked?: boolean;
}

/** A larger pipe under paving that others pass through. */
export interface Sleeve {
  from: Spot;
  to: Spot;
  /** Left out: by what is in it. */
  nominal_in?: number;
  /** Left out: whatever crosses there. */
  carries?: "pipe" | "wire" | "spare";
  /** Left out: not chosen. */
  method?: "before_paving" | "water_bore" | "saw_cut" | "other_bore";
  built?: Built;
  status?: Status;
  locked?: boolean;
}

/** A line along which control wire lies where it does not go with a pipe. */
export interface WireRun {
  line: Line;
  /** Left out: in a trench. */
  lay?: "trench" | "building";
  status?: Status;
  locked?: boolean;
}

/** A box for splices away from the valves. */
export interface SpliceBox extends Spot {
  name?: string;
  built?: Built;
  status?: Status;
  locked?: boolean;
}

/** How valves are wired, where it is not left to what suits. */
export interface Wiring {
  cable?: "single" | "multi";
  hot_awg?: number;
  common_awg?: number;
}

/** The clock that opens the valves. */
export interface Controller {
  at?: Spot;
  stations?: number;
  /** It can hold; left out: 3. */
  programs?: number;
  /** Of each program; left out: 4. */
  starts?: number;
  /** It parts run times into cycles with soaks between by itself. */
  soaks?: boolean;
  /** percent or none; left out: percent. */
  adjusts?: string;
  /** In words. */
  place?: string;
  outdoors?: boolean;
  /** The mains outlet it is plugged into. */
  outlet_at?: Spot;
  status?: Status;
  locked?: boolean;
}

/** What the watering plan is made for. Lists have twelve entries, January first. */
export interface Watering {
  /** Allowed weekdays: mon … sun. */
  days?: string[];
  /** One day in so many is allowed, 1 is each; instead of days. */
  every?: number;
  start?: string;
  end?: string;
  peak_in_per_week?: number;
  audited_du?: number;
  /** The climate goes by the first of et_in, high_f with low_f, et_zone that is there. */
  et_in?: number[];
  high_f?: number[];
  low_f?: number[];
  et_zone?: number;
  rain_in?: number[];
  /** Where they come from, in words. */
  et_from?: string;
  /** The weather that et_in was reckoned from; an entry without lines was not in it. */
  et_by?: MonthWeather[];
  /** cool or warm: its factor by month; left out: one figure all year. */
  turf?: string;
  /** established, new_sod or seed. */
  stage?: string;
  /** multiplier, low_quarter or mean. */
  target?: string;
  /** Stations may run side by side within the design flow. */
  together?: boolean;
}

/** The mean day of a month in the weather that reference ET was reckoned from. */
export interface MonthWeather {
  lines?: number;
  tmax_f?: number;
  tmin_f?: number;
  saturation_kpa?: number;
  vapour_kpa?: number;
  solar_mj?: number;
  net_mj?: number;
  wind_mph?: number;
  sun_in?: number;
  wind_in?: number;
  day_in?: number;
  estimated?: string;
}

/** What the user pays for an item. */
export interface Price {
  item: string;
  unit: string;
  each: number;
  code?: string;
}

/** What work and parts are offered for: every rate is the user's own. */
export interface Quote {
  currency?: string;
  per_trench_ft?: number;
  per_sleeve_ft?: number;
  per_head?: number;
  per_valve?: number;
  rentals?: Record<string, { what: string; days: number; each: number }>;
  mark_up_share?: number;
  tax_share?: number;
  tax_on?: "parts" | "all";
  notes?: string;
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
  backflow_at?: Spot;
  /** What after the device can push water back; left out: nothing. */
  push_back?: "pump" | "second_source";
  /** Fertilizer or other chemicals are put into the water. */
  injection?: boolean;
  /** Drinking or hose water is taken off after the device. */
  taps_after?: boolean;
  service_material?: string;
  service_in?: number;
  service_length_ft?: number;
  /** Among pipe_classes. */
  service_class?: string;
  /** Greatest velocity in the service line; left out: by its material. */
  service_fps?: number;
  statics?: Record<string, StaticReading>;
  /** A container filled at an open tap: flow at no pressure. */
  timed_gal?: number;
  timed_s?: number;
  measured_where?: "connection" | "outside_tap" | "hydrant";
  house_gpm?: number;
  /** Left out: no regulator of the house is known. */
  tap?: "before_regulator" | "after_regulator";
  regulator_psi?: number;
  pump?: PumpPoint[];
  pump_least_gpm?: number;
  needed_psi?: number;
  /** Among devices, as the five below. */
  meter?: string;
  isolation?: string;
  filter?: string;
  master_valve?: string;
  backflow_device?: string;
  swing_joint?: string;
  backflow_height_ft?: number;
  /** Left out: not said. */
  freeze?: "none" | "blow_out" | "manual_drain" | "automatic_drain";
  status?: Status;
  [other: string]: unknown;
}

/** The static pressure found at one hour of one month. */
export interface StaticReading {
  psi: number;
  /** 0 to 23. */
  hour?: number;
  /** 1 to 12. */
  month?: number;
  where?: string;
}

/** One point of a pump's curve. */
export interface PumpPoint {
  flow_gpm: number;
  psi: number;
}

/** What a joint of the pipes is. */
export type NodeKind = "joint" | "valve" | "head" | "connection" | "backflow" | "drain";

/** A joint of the pipes. */
export interface PipeNode extends Spot {
  kind: NodeKind;
  /** Of kind head: the head that stands there. */
  head?: string;
  /** Of kind valve: the zone it opens. */
  zone?: string;
  status?: Status;
  locked?: boolean;
}

/** A pipe between two nodes. */
export interface Pipe {
  from: string;
  to: string;
  /** Corners on the way. */
  via?: Line;
  /** Among pipe_classes; left out: not chosen. */
  class?: string;
  /** In words, of a pipe whose class is not known. */
  material?: string;
  /** Left out: not sized. */
  nominal_in?: number;
  /** Left out: the main. */
  zone?: string;
  status?: Status;
  locked?: boolean;
}

export interface PipeSize {
  nominal_in: number;
  outside_in: number;
  wall_in: number;
  inside_in: number;
  rating_psi: number;
  price_per_ft?: number;
}

/** Pipe of one material and wall in the sizes it is made in. */
export interface PipeClass {
  name: string;
  material: "pvc" | "pe" | "copper" | "steel";
  generic: boolean;
  source: string;
  convention: string;
  c: number;
  modulus_psi: number;
  potable?: boolean;
  joint: "cement" | "insert" | "solder" | "thread";
  sold_ft?: number;
  sizes: PipeSize[];
}

/** A point of a device's loss curve. */
export interface LossPoint {
  flow_gpm: number;
  loss_psi: number;
}

/** What stands in the pipe and takes pressure. */
export interface Device {
  name: string;
  kind: "meter" | "isolation" | "backflow" | "zone_valve" | "master_valve" | "filter" | "swing_joint";
  backflow?:
    | "pressure_breaker"
    | "spill_resistant_breaker"
    | "atmospheric_breaker"
    | "double_check"
    | "reduced_pressure";
  generic: boolean;
  source: string;
  /** No citable source stands behind its figures. */
  replace?: boolean;
  nominal_in?: number;
  least_gpm?: number;
  most_gpm?: number;
  least_psi?: number;
  most_psi?: number;
  loss: LossPoint[];
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
  /** As it was found; a copy of a head has none, nor is it built. */
  state?: HeadState;
  built?: Built;
  status?: Status;
  locked?: boolean;
}

export interface Zone {
  name: string;
  station?: number;
  flag?: string;
  valve_at?: Spot;
  /** Among devices; left out: the generic 1 in valve. */
  valve?: string;
  pressure_psi?: number;
  /** Found by an audit of this zone. */
  audited_du?: number;
  /** By hand, measured. */
  runs?: Record<string, ZoneRun>;
  /** Its valve. */
  built?: Built;
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

/** The plan's own choices of reckoning. */
export interface Options {
  edge_lip_ft?: number;
  wall_lip_ft?: number;
  cell_ft?: number;
  /** Distances kept here where they are not the usual ones, by the ids of internal/plan.LocalRuleRows. */
  local_rules?: Record<string, LocalRule>;
  /** What trenches, wire and parts are reckoned with, where it is not the usual, by the ids of internal/plan.FigureRows. */
  figures?: Record<string, OwnFigure>;
}

/** A figure of the plan's own, in the unit of its row, and where it comes from. */
export interface OwnFigure {
  value: number;
  source?: string;
}

/** A distance that custom or local code asks for, and where it says so. */
export interface LocalRule {
  feet: number;
  source?: string;
}

/** Plan mirrors internal/plan.Plan. Members this page never edits stay opaque. */
export interface Plan {
  format: string;
  name: string;
  show: System;
  site?: Site;
  options?: Options;
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
  pipe_classes?: Record<string, PipeClass>;
  devices?: Record<string, Device>;
  nodes?: Record<string, PipeNode>;
  pipes?: Record<string, Pipe>;
  sleeves?: Record<string, Sleeve>;
  controller?: Controller;
  sensors?: Record<string, Sensor>;
  wires?: Record<string, WireRun>;
  boxes?: Record<string, SpliceBox>;
  wiring?: Wiring;
  prices?: Record<string, Price>;
  quote?: Quote;
  watering?: Watering;
  proof?: Proof;
  photos?: Record<string, Photo>;
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
  pipe_classes: PipeClass;
  devices: Device;
  nodes: PipeNode;
  pipes: Pipe;
  notes: Note;
  accepted: Accepted;
  elevations: Elevation;
  ties: Tie;
  sensors: Sensor;
  sleeves: Sleeve;
  wires: WireRun;
  boxes: SpliceBox;
  supply: Spot;
  controller: Spot;
  valves: Spot;
  cans: CatchCan;
  underlay: Underlay;
}
export type Collection = keyof Collections;

/** Ref points at a thing of the plan: collection and id, as "heads/h7". */
export type Ref = `${Collection}/${string}`;

export const ref = (c: Collection, id: string): Ref => `${c}/${id}`;

/** Rows of tables, which lie nowhere on the plan. */
const rows: ReadonlySet<Collection> = new Set<Collection>(["nozzles", "bodies", "pipe_classes", "devices"]);

/** Whether a thing is the row of a table, as a nozzle's or a device's. */
export const isRow = (r: Ref): boolean => rows.has(parts(r)[0]);

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
  pipe_classes: "l",
  devices: "d",
  nodes: "j",
  pipes: "p",
  notes: "m",
  accepted: "c",
  elevations: "e",
  ties: "i",
  sensors: "s",
  sleeves: "u",
  wires: "w",
  boxes: "x",
};

/** Whether a collection takes any number of things. */
export const takesMore = (c: Collection): boolean => letters[c] !== undefined;

const alphabet = "0123456789abcdefghjkmnpqrstvwxyz";

/**
 * An id for a new thing: the collection's letter and six random characters. An
 * id is never used again after its thing is gone, and no counter could promise
 * that across tabs; a billion random ids do.
 */
export const newID = (p: Plan, c: Collection): string => freshID(letters[c] ?? "x", thingsOf(p, c));

/** An id that none of these has, with a first letter: also for records that are no things, as an audit. */
export function freshID(letter: string, taken: object = {}): string {
  for (;;) {
    const bytes = crypto.getRandomValues(new Uint8Array(6));
    const id = letter + Array.from(bytes, (b) => alphabet[b & 31]).join("");
    if (!Object.hasOwn(taken, id)) return id;
  }
}

const named = new Set<string>([
  "areas",
  "barriers",
  "trees",
  "keep_dry",
  "heads",
  "zones",
  "nodes",
  "pipes",
  "notes",
  "elevations",
  "ties",
  "sensors",
  "sleeves",
  "wires",
  "boxes",
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
