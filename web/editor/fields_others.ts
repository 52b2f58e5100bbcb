// What can be typed about walls, trees, keep-dry points and notes, and which
// fields each collection has.

import { cornersText, parseCorners } from "./corners";
import { choice, coordinate, type Field, length, member, statuses, text, yes } from "./fields";
import { areaFields } from "./fields_areas";
import { canFields } from "./fields_cans";
import { fixtureFields } from "./fields_fixtures";
import { headFields } from "./fields_heads";
import { pictureFields } from "./fields_picture";
import { nodeFields, pipeFields } from "./fields_pipes";
import { wiringFields } from "./fields_wiring";
import { read } from "./length";
import { find, put } from "./model";
import { sizeText, sizeTyped } from "./trunks";

const line: Field = {
  key: "line",
  label: "Corners",
  as: "long",
  hint: () => "one to a line: x, y",
  get: ({ plan }, id) => cornersText(find(plan, "barriers", id)?.line ?? [], plan.show),
  set: ({ plan }, [id], typed) => {
    const wall = id === undefined ? undefined : find(plan, "barriers", id);
    if (!wall || id === undefined) return read(plan);
    const v = parseCorners(typed, plan.show, 2, wall.line);
    return v.ok ? read(put(plan, "barriers", id, { ...wall, line: v.value })) : v;
  },
};

const barrierFields: readonly Field[] = [
  text("barriers", "name", "Name", true),
  choice("barriers", "kind", "Kind", [
    ["fence", "Fence"],
    ["wall", "Wall"],
    ["hedge", "Hedge"],
  ]),
  length("barriers", "height_ft", "Height", { least: 0.25, most: 100 }),
  choice("barriers", "status", "Status", statuses),
  yes("barriers", "locked", "Locked in place"),
  line,
];

const trunk = member(
  "trees",
  "trunk_in",
  "Trunk, across",
  (v, p) => (typeof v === "number" ? sizeText(v, p.show) : ""),
  (typed, p) => sizeTyped(typed, p.show),
  { hint: (p) => (p.show === "metric" ? "cm" : "inches") },
);

const treeFields: readonly Field[] = [
  text("trees", "name", "Name", true),
  coordinate("trees", "x_ft", "X, east"),
  coordinate("trees", "y_ft", "Y, north"),
  trunk,
  length("trees", "root_zone_ft", "Root zone, from trunk", { least: 0.1, most: 200, empty: "default" }),
  choice("trees", "status", "Status", statuses),
  yes("trees", "locked", "Locked in place"),
];

const keepDryFields: readonly Field[] = [
  text("keep_dry", "name", "Name", true),
  coordinate("keep_dry", "x_ft", "X, east"),
  coordinate("keep_dry", "y_ft", "Y, north"),
  length("keep_dry", "radius_ft", "Radius", { least: 0.1, most: 100, empty: "default" }),
  choice("keep_dry", "status", "Status", statuses),
  yes("keep_dry", "locked", "Locked in place"),
];

const noteFields: readonly Field[] = [
  text("notes", "text", "Text", true),
  coordinate("notes", "x_ft", "X, east"),
  coordinate("notes", "y_ft", "Y, north"),
  choice("notes", "status", "Status", statuses),
];

/** The collections whose things stand on the board, in the order of their list. */
export const placed = [
  "site",
  "areas",
  "barriers",
  "trees",
  "keep_dry",
  "heads",
  "valves",
  "supply",
  "controller",
  "sensors",
  "elevations",
  "boxes",
  "pipes",
  "nodes",
  "sleeves",
  "wires",
  "ties",
  "notes",
  "cans",
  "underlay",
] as const;
export type Placed = (typeof placed)[number];

/** What can be typed about a thing, by its collection. */
export const fieldsOf: Record<Placed, readonly Field[]> = {
  ...fixtureFields,
  ...wiringFields,
  areas: areaFields,
  barriers: barrierFields,
  trees: treeFields,
  keep_dry: keepDryFields,
  heads: headFields,
  notes: noteFields,
  cans: canFields,
  pipes: pipeFields,
  nodes: nodeFields,
  underlay: pictureFields,
};

export const isPlaced = (c: string): c is Placed => (placed as readonly string[]).includes(c);
