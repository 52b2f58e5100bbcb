// What an audit was made with: its date, how long each zone ran, the cans and the wind.

import { auditName, auditOf } from "../audits";
import { h } from "../dom";
import { normDeg } from "../geometry";
import type { Audit } from "../proof";
import { catchFile } from "./catchfile";
import { measures } from "./measures";
import { setAudit, setMinutes } from "./records";
import type { Yard } from "./session";
import { choose, column, day, figure, line, type Part, words } from "./ui";
import { zonesOf } from "./zoneruns";

/** Where wind comes from, as it is written and as it is read out; degrees anticlockwise from true east, before the plan is turned. */
const winds: readonly (readonly [label: string, name: string, deg: number])[] = [
  ["N", "N, north", 90],
  ["NE", "NE, north-east", 45],
  ["E", "E, east", 0],
  ["SE", "SE, south-east", 315],
  ["S", "S, south", 270],
  ["SW", "SW, south-west", 225],
  ["W", "W, west", 180],
  ["NW", "NW, north-west", 135],
];

/** The opening of a round can so wide, to a thousandth; both in inches. */
export const openingOf = (across?: number): number | undefined =>
  across === undefined ? undefined : Math.round(250 * Math.PI * across ** 2) / 1000;

/** How wide a round can of an opening is. */
export const roundOf = (opening?: number): number | undefined =>
  opening === undefined ? undefined : Math.sqrt((4 * opening) / Math.PI);

export function auditSetup(yard: Yard, audit: string): Part {
  const a = () => auditOf(yard.plan, audit);
  const set = (what: string, change: Partial<Audit>): void =>
    yard.step(`${what} of the audit`, setAudit(yard.plan, audit, change));
  const zones = zonesOf(yard).map((z) =>
    figure(yard, measures.runMinutes, {
      key: `audit/${audit}/run/${z.id}`,
      label: z.title,
      what: `minutes of ${z.title}`,
      get: () => a()?.runs?.[z.id],
      set: (v) => yard.step(`Minutes of ${z.title}`, setMinutes(yard.plan, audit, z.id, v)),
    }),
  );
  const throat = figure(yard, measures.throat, {
    key: `audit/${audit}/throat`,
    label: "Opening of a can",
    what: "opening of a can",
    get: () => a()?.throat_in2,
    set: (v) => set("Opening of a can", { throat_in2: v }),
  });
  const across = figure(yard, measures.across, {
    key: `audit/${audit}/across`,
    label: "Or across it, where it is round",
    what: "width of a can",
    get: () => roundOf(a()?.throat_in2),
    set: (v) => set("Opening of a can", { throat_in2: openingOf(v) }),
  });
  const opening = column("yard-fields", throat, across);
  const north = yard.plan.site?.north_deg ?? 0;
  const from = (deg: number): number => normDeg(deg + north);
  const part = column(
    "yard-one",
    line("yard-title", () => auditName(yard.plan, audit), "h2"),
    line("yard-says", () => `${Object.keys(a()?.cans ?? {}).length} cans`),
    h("h3", {}, "How long each zone ran while the cans stood"),
    h("p", { class: "hint" }, "Leave out those that did not run."),
    column("yard-fields", ...zones),
    h("h3", {}, "The cans"),
    choose(
      "They are read in",
      [
        { value: "volume", label: "Millilitres" },
        { value: "depth", label: "Depth" },
      ],
      () => a()?.scale ?? "volume",
      (v) => set("Scale", { scale: v === "depth" ? "depth" : undefined }),
    ),
    opening,
    catchFile(yard, audit),
    h("h3", {}, "The wind meanwhile"),
    figure(yard, measures.wind, {
      key: `audit/${audit}/wind`,
      label: "Speed",
      what: "wind of the audit",
      get: () => a()?.wind_mph,
      set: (v) => set("Wind", { wind_mph: v }),
    }),
    choose(
      "It came from",
      winds.map(([label, name, deg]) => ({ value: String(from(deg)), label, name })),
      () => String(a()?.wind_from_deg ?? ""),
      (v) => set("Wind", { wind_from_deg: Number(v) }),
    ),
    column(
      "yard-fields",
      day(
        "Date",
        () => a()?.on,
        (on) => set("Date", { on }),
      ),
      words(yard, {
        key: `audit/${audit}/name`,
        label: "Name",
        what: "name of the audit",
        get: () => a()?.name,
        set: (name) => set("Name", { name }),
      }),
    ),
  );
  const update = (): void => {
    part.update();
    opening.el.hidden = a()?.scale === "depth";
  };
  update();
  return { el: part.el, update };
}
