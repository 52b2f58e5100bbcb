// What things are called in labels, lists and announcements.

import { canNumber } from "./audits";
import { lengthText, placeText } from "./format";
import { distance, type Point } from "./geometry";
import {
  type Collection,
  find,
  items,
  type Kind,
  type Plan,
  parts,
  type Ref,
  type System,
  type WateringKind,
} from "./model";
import { nodeName, pipeName } from "./pipenames";
import { sleeveName, wireName } from "./wiringnames";

/** How planting gets its water, as names and labels say it; the usual way says nothing. */
export const wateringWords: Readonly<Record<WateringKind, string>> = {
  overhead: "",
  point: "drip or bubblers",
  by_hand: "watered by hand",
  none: "not watered",
};

/** What each kind of area is called. */
export const kindNames: Record<Kind, string> = {
  planting: "Planting",
  building: "Building",
  paving: "Paving",
  ground: "Bare ground",
  right_of_way: "Street or neighbour",
  no_dig: "No-dig ground",
  water: "Water",
};

/** What a closed outline can be drawn as: the kinds of area, and the property line. */
export const outlineNames: Record<Kind | "lot", string> = { ...kindNames, lot: "Property line" };

/** What one thing of each collection is called. */
export const thingNames: Record<Collection, string> = {
  areas: "Area",
  barriers: "Wall or fence",
  trees: "Tree",
  keep_dry: "Keep dry",
  heads: "Head",
  zones: "Zone",
  nozzles: "Nozzle",
  bodies: "Body",
  notes: "Note",
  accepted: "Accepted finding",
  site: "Property line",
  elevations: "Spot height",
  ties: "Tie",
  sensors: "Sensor",
  supply: "Supply",
  controller: "Controller",
  sleeves: "Sleeve",
  wires: "Wire run",
  boxes: "Splice box",
  valves: "Valve",
  nodes: "Pipe joint",
  pipes: "Pipe",
  pipe_classes: "Pipe class",
  devices: "Device",
  underlay: "Picture",
  cans: "Catch can",
};

const cut = (text: string): string => (text.length > 40 ? `${text.slice(0, 39)}…` : text);

/** What there is one of. */
const onlyOnes: Readonly<Record<string, string>> = {
  "site/lot": "the property line",
  "supply/connection": "the point of connection",
  "supply/backflow_at": "the backflow device",
  "controller/at": "the controller",
  "controller/outlet_at": "the controller’s outlet",
  "underlay/picture": "the picture",
};

/** The name of a thing as it stands in a sentence: "head 2-8", "Front lawn". */
export function nameOf(p: Plan, r: Ref): string {
  const [c, id] = parts(r);
  if (c === "heads") {
    const head = find(p, "heads", id);
    if (!head) return "a head no longer here";
    return head.tag ? `head ${head.tag}` : `head at ${placeText([head.x_ft, head.y_ft], p.show)}`;
  }
  const only = onlyOnes[r];
  if (only) return only;
  if (c === "valves")
    return `valve of zone ${find(p, "zones", id)?.station || (find(p, "zones", id)?.name ?? id)}`;
  if (c === "sensors") return `${find(p, "sensors", id)?.kind || ""} sensor`.trim();
  if (c === "elevations") {
    const e = find(p, "elevations", id);
    return e ? `spot height ${lengthText(e.z_ft, p.show)}` : "spot height";
  }
  if (c === "ties") {
    const t = find(p, "ties", id);
    return t ? `tie of ${lengthText(t.distance_ft, p.show)}` : "tie";
  }
  if (c === "cans") return find(p, c, id) ? `catch can ${canNumber(p, id)}` : "a catch can no longer here";
  if (c === "sleeves") return sleeveName(p, id);
  if (c === "wires") return wireName(p, id);
  if (c === "pipes") return pipeName(p, id, nameOf);
  if (c === "nodes") return nodeName(p, id, nameOf);
  if (c === "notes") return `note “${cut(find(p, "notes", id)?.text ?? "")}”`;
  const thing = items(p, c)[id] as { name?: string } | undefined;
  return thing?.name?.trim() ? thing.name : thingNames[c].toLowerCase();
}

/** The names of several things: one by name, more by count. */
export function namesOf(p: Plan, refs: readonly Ref[]): string {
  const [first] = refs;
  if (first && refs.length === 1) return nameOf(p, first);
  const kinds = new Set(refs.map((r) => parts(r)[0]));
  const [only] = kinds;
  if (only && kinds.size === 1) return `${refs.length} ${plural(only)}`;
  return `${refs.length} things`;
}

const plurals: Record<Collection, string> = {
  areas: "areas",
  barriers: "walls and fences",
  trees: "trees",
  keep_dry: "keep-dry points",
  heads: "heads",
  zones: "zones",
  nozzles: "nozzles",
  bodies: "bodies",
  notes: "notes",
  accepted: "accepted findings",
  site: "property lines",
  elevations: "spot heights",
  ties: "ties",
  sensors: "sensors",
  supply: "supply points",
  controller: "controllers",
  sleeves: "sleeves",
  wires: "wire runs",
  boxes: "splice boxes",
  valves: "valves",
  nodes: "pipe joints",
  pipes: "pipes",
  pipe_classes: "pipe classes",
  devices: "devices",
  underlay: "pictures",
  cans: "catch cans",
};

export const plural = (c: Collection): string => plurals[c];

export const count = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

/** How a tie as drawn differs from what was measured: "1/2\" longer", or nothing where it agrees. */
export function tieDifference(from: Point, to: Point, measured: number, show: System): string {
  const by = distance(from, to) - measured;
  const text = lengthText(Math.abs(by), show);
  return text === lengthText(0, show) ? "" : `${text} ${by > 0 ? "longer" : "shorter"}`;
}

/** The drawn length of a tie beside the measured one: "drawn 24' 0\", 1/2\" longer than measured". */
export function tieText(from: Point, to: Point, measured: number, show: System): string {
  const by = tieDifference(from, to, measured, show);
  return `drawn ${lengthText(distance(from, to), show)}, ${by ? `${by} than measured` : "as measured"}`;
}

/** What a name is sorted by, so that head 2-10 comes after head 2-9: a collator would take thousands too long. */
export const sortKey = (name: string): string =>
  name.toLowerCase().replace(/\d+/g, (digits) => digits.padStart(6, "0"));

/** A name as it begins a sentence or a row. */
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
