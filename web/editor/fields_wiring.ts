// What can be typed about sleeves, wire runs, splice boxes, the controller with its
// outlet, and sensors.

import { cornersText, parseCorners, unbowed } from "./corners";
import {
  choice,
  coordinate,
  end,
  type Field,
  length,
  parseNumber,
  setAll,
  statuses,
  statusField,
  text,
  yes,
} from "./fields";
import { builtFields } from "./fields_found";
import { read, refuse } from "./length";
import { find, type Plan, put } from "./model";
import { sizeChoices } from "./pipeclasses";
import { OUTLET } from "./places";
import { sleeveLoads, sleeveMethods, wireLays } from "./wiringnames";

const listed = <T extends Readonly<Record<string, string>>>(words: T): [string, string][] =>
  Object.entries(words);

const sleeveSize: Field = {
  key: "nominal_in",
  label: "Size",
  as: "choice",
  get: ({ plan }, id) => String(find(plan, "sleeves", id)?.nominal_in ?? ""),
  set: ({ plan }, ids, typed) => {
    const n = Number(typed);
    if (!Number.isFinite(n) || n < 0) return refuse("Choose one of the sizes sleeves are made in.");
    return read(setAll(plan, "sleeves", ids, "nominal_in", n > 0 ? n : undefined));
  },
  choices: (c, ids) => sleeveSizes(c.plan, find(c.plan, "sleeves", ids[0] ?? "")?.nominal_in ?? 0),
};

/** The sizes sleeves come in, as choices: those of pipe from 1 in on, and 4 in. */
export const sleeveSizes = (plan: Plan, now: number) => [
  { value: "", label: "To suit" },
  ...sizeChoices({ plan, catalog: { nozzles: [], bodies: [] } }, "", Math.max(now, 4)).filter(
    ({ value }) => Number(value) >= 1 || Number(value) === now,
  ),
];

const sleeveFields: readonly Field[] = [
  choice("sleeves", "carries", "Carries", listed(sleeveLoads)),
  sleeveSize,
  choice("sleeves", "method", "Method", listed(sleeveMethods)),
  end("sleeves", "from", "x_ft", "From x"),
  end("sleeves", "from", "y_ft", "From y"),
  end("sleeves", "to", "x_ft", "To x"),
  end("sleeves", "to", "y_ft", "To y"),
  choice("sleeves", "status", "Status", statuses),
  yes("sleeves", "locked", "Locked in place"),
  ...builtFields("sleeves"),
];

const line: Field = {
  key: "line",
  label: "Corners",
  as: "long",
  hint: () => "one to a line: x, y",
  get: ({ plan }, id) => cornersText(find(plan, "wires", id)?.line ?? [], plan.show),
  set: ({ plan }, [id], typed) => {
    const run = id === undefined ? undefined : find(plan, "wires", id);
    if (!run || id === undefined) return read(plan);
    const v = parseCorners(typed, plan.show, 2, run.line);
    const straight = v.ok ? unbowed(v.value, run.line) : v;
    return straight.ok ? read(put(plan, "wires", id, { ...run, line: straight.value })) : straight;
  },
};

const wireFields: readonly Field[] = [
  choice("wires", "lay", "Lies", listed(wireLays)),
  choice("wires", "status", "Status", statuses),
  yes("wires", "locked", "Locked in place"),
  line,
];

const boxFields: readonly Field[] = [
  text("boxes", "name", "Name"),
  coordinate("boxes", "x_ft", "X, east"),
  coordinate("boxes", "y_ft", "Y, north"),
  choice("boxes", "status", "Status", statuses),
  yes("boxes", "locked", "Locked in place"),
  ...builtFields("boxes"),
];

/** A member of the controller, which the document has one of. */
function ofController(
  key: "stations" | "programs" | "starts" | "soaks" | "adjusts" | "place" | "outdoors" | "locked",
  label: string,
  as: Field["as"],
  reader: (typed: string) => ReturnType<typeof read<unknown>> | ReturnType<typeof refuse>,
  hint?: string,
  more: Pick<Field, "empty" | "choices"> = {},
): Field {
  return {
    key,
    label,
    as,
    ...(hint ? { hint: () => hint } : {}),
    ...more,
    has: (_, id) => id === "at" || key === "locked",
    get: ({ plan }) => {
      const v = plan.controller?.[key];
      if (key === "adjusts") return v === "none" ? "none" : "";
      return v === true ? "yes" : v === undefined || v === false ? "" : String(v);
    },
    set: ({ plan }, _ids, typed) => {
      const v = reader(typed);
      if (!v.ok) return v;
      const { [key]: _was, ...rest } = plan.controller ?? {};
      return read({ ...plan, controller: v.value === undefined ? rest : { ...rest, [key]: v.value } });
    },
  };
}

const tick = (typed: string) => read<unknown>(typed === "yes" ? true : undefined);

/** A whole number of something; empty and 0 are not said. */
const counted =
  (what: string, most: number) =>
  (typed: string): ReturnType<typeof read<unknown>> | ReturnType<typeof refuse> => {
    if (typed.trim() === "") return read<unknown>(undefined);
    const v = parseNumber(typed, what, 0, most);
    if (!v.ok) return v;
    return Number.isInteger(v.value) ? read<unknown>(v.value || undefined) : refuse("Type a whole number.");
  };

const adjustments = [
  { value: "", label: "by one percentage" },
  { value: "none", label: "not at all: minutes are keyed in anew" },
];

/** What the controller can hold; the watering program keeps within it. */
export const holdsFields: readonly Field[] = [
  ofController(
    "stations",
    "Stations",
    "text",
    counted("how many valves it can open", 100),
    "valves it can open",
  ),
  ofController("programs", "Programs", "text", counted("how many programs it can hold", 20), "it can hold", {
    empty: "the usual",
  }),
  ofController("starts", "Starts", "text", counted("how many starts a program can have", 40), "a program", {
    empty: "the usual",
  }),
  ofController(
    "adjusts",
    "Adjusts all its minutes",
    "choice",
    (typed) => read<unknown>(typed === "none" ? "none" : undefined),
    undefined,
    { choices: () => adjustments },
  ),
  ofController("soaks", "Parts minutes into cycles with soaks by itself", "yes", tick),
];

const controllerFields: readonly Field[] = [
  ofController("place", "Place", "text", (t) => {
    const words = t.trim();
    return words.length > 200
      ? refuse("Shorten the words to 200 letters.")
      : read<unknown>(words === "" ? undefined : words);
  }),
  ...holdsFields,
  ofController("outdoors", "In a case outside", "yes", tick),
  coordinate("controller", "x_ft", "X, east"),
  coordinate("controller", "y_ft", "Y, north"),
  { ...statusField("controller"), has: (_, id) => `controller/${id}` !== OUTLET },
  ofController("locked", "Locked in place", "yes", tick),
];

export const sensorKinds = [
  ["rain", "Rain"],
  ["flow", "Flow"],
  ["soil", "Soil"],
] as const;

const sensorFields: readonly Field[] = [
  choice("sensors", "kind", "Kind", sensorKinds),
  coordinate("sensors", "x_ft", "X, east"),
  coordinate("sensors", "y_ft", "Y, north"),
  {
    ...length("sensors", "height_ft", "Above the ground", { least: 0, most: 1000, empty: "default" }),
    empty: "not said",
  },
  yes("sensors", "wireless", "Needs no wire"),
  choice("sensors", "status", "Status", statuses),
  yes("sensors", "locked", "Locked in place"),
];

export const wiringFields = {
  sleeves: sleeveFields,
  wires: wireFields,
  boxes: boxFields,
  controller: controllerFields,
  sensors: sensorFields,
} satisfies Record<string, readonly Field[]>;
