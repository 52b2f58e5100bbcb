// What can be typed about the property line, and about what stands on the plan
// beside planting and heads: valves, the supply's points, controller, sensors,
// spot heights and measured distances.

import { coordText, cornersText, parseCorners } from "./corners";
import { choice, coordinate, type Field, length, member, setAll, statuses, statusField, yes } from "./fields";
import { parseCoordinate, read } from "./length";
import { find, put, type Spot } from "./model";
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

const spot = <C extends "valves" | "supply" | "controller" | "sensors" | "elevations">(c: C): Field[] => [
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

/** One coordinate of an end of a tie. The first end goes by the names of places, as things with one place do. */
function end(which: "from" | "to", axis: keyof Spot, label: string): Field {
  return {
    key: which === "from" ? axis : `to_${axis}`,
    label,
    as: "text",
    hint: (p) => (p.show === "metric" ? "m" : "ft"),
    get: ({ plan }, id) => {
      const t = find(plan, "ties", id);
      return t ? coordText(t[which][axis], plan.show) : "";
    },
    set: ({ plan }, ids, typed) => {
      const v = parseCoordinate(typed, plan.show);
      if (!v.ok) return v;
      let next = plan;
      for (const id of ids) {
        const t = find(next, "ties", id);
        if (t) next = put(next, "ties", id, { ...t, [which]: { ...t[which], [axis]: v.value } });
      }
      return read(next);
    },
  };
}

export const sensorKinds = [
  ["rain", "Rain"],
  ["flow", "Flow"],
  ["soil", "Soil"],
] as const;

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

export const fixtureFields = {
  site: [outline],
  valves: [...spot("valves"), valve, statusField("valves")],
  supply: spot("supply"),
  controller: [...spot("controller"), statusField("controller")],
  sensors: [
    choice("sensors", "kind", "Kind", sensorKinds),
    ...spot("sensors"),
    choice("sensors", "status", "Status", statuses),
    yes("sensors", "locked", "Locked in place"),
  ],
  elevations: [...spot("elevations"), level, choice("elevations", "status", "Status", grades)],
  ties: [
    end("from", "x_ft", "From x"),
    end("from", "y_ft", "From y"),
    end("to", "x_ft", "To x"),
    end("to", "y_ft", "To y"),
    length("ties", "distance_ft", "Measured", { least: 0.01, most: 32_808 }),
    choice("ties", "status", "Status", statuses),
  ],
} satisfies Record<string, readonly Field[]>;
