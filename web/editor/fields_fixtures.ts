// What can be typed about the property line, and about what stands on the plan
// beside planting and heads: valves, the supply's points, spot heights and
// measured distances. For controller, sensors and wire see fields_wiring.ts.

import { coordText, cornersText, parseCorners } from "./corners";
import {
  choice,
  coordinate,
  end,
  type Field,
  length,
  member,
  percentText,
  readPercent,
  setAll,
  statuses,
  statusField,
} from "./fields";
import { builtFields } from "./fields_found";
import { parseCoordinate, read } from "./length";
import { find, put } from "./model";
import { deviceChoices, withRow } from "./supplyrows";

const outline: Field = {
  key: "outline",
  label: "Corners",
  as: "long",
  hint: () => "one to a line: x, y; a third number bows the edge that leaves the corner",
  get: ({ plan }, id) => cornersText(find(plan, "site", id)?.outline ?? [], plan.show),
  set: ({ plan }, [id], typed) => {
    const lot = id === undefined ? undefined : find(plan, "site", id);
    if (!lot || id === undefined) return read(plan);
    const v = parseCorners(typed, plan.show, 3, lot.outline);
    return v.ok ? read(put(plan, "site", id, { outline: v.value })) : v;
  },
};

const spot = <C extends "valves" | "supply" | "elevations">(c: C): Field[] => [
  coordinate(c, "x_ft", "X, east"),
  coordinate(c, "y_ft", "Y, north"),
];

const level = member(
  "elevations",
  "z_ft",
  "Level",
  (v, p) => (typeof v === "number" ? coordText(v, p.show) : ""),
  (typed, p) => parseCoordinate(typed, p.show),
  { hint: (p) => `${p.show === "metric" ? "m" : "ft"}, above the plan's own 0` },
);

/** The status of a height says which ground it is of. */
const grades = [
  ["new", "Finished grade"],
  ["existing", "Ground as it lies"],
  ["remove", "To be removed"],
] as const;

const valve: Field = {
  key: "valve",
  label: "Made as",
  as: "choice",
  get: ({ plan }, id) => find(plan, "zones", id)?.valve ?? "",
  set: ({ plan, catalog }, ids, typed) =>
    read(setAll(withRow(plan, typed, catalog), "zones", ids, "valve", typed || undefined)),
  choices: ({ plan, catalog }) => [
    { value: "", label: "The usual valve, 1 in" },
    ...deviceChoices(plan, catalog, "zone_valve"),
  ],
};

/** Of the zone that the valve opens; the watering program goes by it before the estimate. */
export const auditedDU: Field = {
  key: "audited_du",
  label: "Evenness audited",
  as: "text",
  hint: () => "% of its zone",
  empty: "none",
  get: ({ plan }, id) => percentText(find(plan, "zones", id)?.audited_du),
  set: ({ plan }, ids, typed) => {
    const v = readPercent(typed, "the evenness found", 1, 100);
    return v.ok ? read(setAll(plan, "zones", ids, "audited_du", v.value)) : v;
  },
};

export const fixtureFields = {
  site: [outline],
  valves: [...spot("valves"), valve, auditedDU, statusField("valves"), ...builtFields("valves")],
  supply: spot("supply"),
  elevations: [...spot("elevations"), level, choice("elevations", "status", "Status", grades)],
  ties: [
    end("ties", "from", "x_ft", "From x"),
    end("ties", "from", "y_ft", "From y"),
    end("ties", "to", "x_ft", "To x"),
    end("ties", "to", "y_ft", "To y"),
    length("ties", "distance_ft", "Measured", { least: 0.01, most: 32_808 }),
    choice("ties", "status", "Status", statuses),
  ],
} satisfies Record<string, readonly Field[]>;
