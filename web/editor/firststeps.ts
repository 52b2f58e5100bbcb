// The way from an empty plan to a parts list, step by step, and how far along
// it a plan is. It only tells; nothing waits for it.

import type { CommandID } from "./commands";
import type { Design } from "./design";
import { find, ids, type Plan } from "./model";

export interface FirstStep {
  readonly title: string;
  readonly says: string;
  readonly done: boolean;
  /** What its button does: a command, a table to open, or the settings of the supply. */
  readonly go: CommandID | "tab-findings" | "tab-zones" | "tab-parts" | "supply";
  readonly button: string;
  /** Another way to it. */
  readonly also?: { readonly go: FirstStep["go"]; readonly button: string };
}

/** The steps in order; listed says whether the parts list was looked at. */
export function firstSteps(plan: Plan, design: Design | null, listed: boolean): FirstStep[] {
  const heads = ids(plan, "heads");
  const planted = Object.values(plan.areas ?? {}).some((a) => a.kind === "planting");
  const stops = (design?.findings ?? []).filter((f) => f.rank === "stop" && !f.accepted);
  const zoned = heads.length > 0 && heads.every((id) => plan.zones?.[plan.heads?.[id]?.zone ?? ""]);
  return [
    {
      title: "Draw the lawn",
      says: "Rectangle for a square one, Outline for any other: click the corners, or type what the tape says.",
      done: planted,
      go: "tool.rectangle",
      button: "Rectangle",
    },
    {
      title: "Set the heads",
      says: "Arrange offers a few layouts to choose from. By hand: one in each corner, then along the edges, so that each throws to the next.",
      done: heads.length > 1,
      go: "head.arrange",
      button: "Arrange",
      also: { go: "tool.head", button: "Head" },
    },
    {
      title: "Make it even",
      says: "Brown on the map is dry. Improve seeks the fewest changes; or drag heads until no finding says Stop.",
      done: heads.length > 1 && design !== null && stops.every((f) => zoneless(f.code)),
      go: "tab-findings",
      button: "Findings",
      also: { go: "head.improve", button: "Improve" },
    },
    {
      title: "Say what water there is",
      says: `Till then ${assumedFlow(design)} is assumed. A gauge or a bucket alone will not do: measure the flow with the pressure left while it runs.`,
      done: waterGiven(plan),
      go: "supply",
      button: "Supply",
    },
    {
      title: "Group them by valve",
      says: "Group seeks the fewest valves that the water can feed. By hand: select the heads of one valve, then “New zone of selected”.",
      done: zoned,
      go: "zone.group",
      button: "Group",
      also: { go: "tab-zones", button: "Zones" },
    },
    {
      title: "Draw the pipes",
      says: "With Fixture set the point of connection, the backflow device and each zone’s valve; with Pipe draw the main to the valves, then from each valve to its heads.",
      done: piped(plan, design),
      go: valved(plan) ? "tool.pipe" : "tool.fixture",
      button: valved(plan) ? "Pipe" : "Fixture",
    },
    {
      title: "Size the pipes",
      says: "The sizes of least cost that give every head its pressure are worked out and offered. Then look at the zones Running.",
      done: piped(plan, design) && sized(plan),
      go: "pipe.size",
      button: "Size the pipes",
    },
    {
      title: "Take the parts list",
      says: "What to buy, by zone and in all. Export saves it as a file.",
      done: zoned && listed,
      go: "tab-parts",
      button: "Parts",
    },
  ];
}

/** What a browser keeps of the steps on a plan: begun on it, the parts list looked at, or put away. */
export type Kept = "begun" | "listed" | "away";

/**
 * Whether the steps stand there when a plan opens: on an empty one, and again on
 * one begun with them until all are done, unless they were put away on it. Null
 * while that cannot be told before the plan is computed.
 */
export function opensWith(kept: Kept | null, plan: Plan, design: Design | null): boolean | null {
  if (kept === "away") return false;
  if (ids(plan, "heads").length === 0) return true;
  if (kept === null) return false;
  if (design === null) return null;
  return firstSteps(plan, design, kept === "listed").some((s) => !s.done);
}

/** The supply was measured, or a flow to plan on was chosen. */
const waterGiven = ({ supply: s }: Plan): boolean => s?.measured === true || s?.design_flow_gpm !== undefined;

/** The water is met, and every zone has its valve. */
const valved = (p: Plan): boolean =>
  p.supply?.connection !== undefined && ids(p, "zones").every((id) => find(p, "zones", id)?.valve_at);

/** Pipes are drawn, and no head is left without. */
const piped = (p: Plan, design: Design | null): boolean =>
  ids(p, "pipes").length > 0 &&
  design !== null &&
  !design.findings.some((f) => pipeless.has(f.code) && !f.accepted);

const sized = (p: Plan): boolean =>
  Object.values(p.pipes ?? {}).every((q) => q.status === "remove" || (q.class && q.nominal_in));

/** The flow that is assumed, as the readings print it. */
function assumedFlow(design: Design | null): string {
  return / of (.+) assumed$/.exec(design?.readings?.flow?.text ?? "")?.[1] ?? "a usual flow";
}

/** How far along the steps are, in a line: "2 of 8 done: next, set the heads." */
export function howFar(steps: readonly FirstStep[]): string {
  const left = steps.filter((s) => !s.done);
  const [next] = left;
  if (!next) return "All done: this plan can be bought.";
  const title = next.title.charAt(0).toLowerCase() + next.title.slice(1);
  return `${steps.length - left.length} of ${steps.length} done: next, ${title}.`;
}

/** Findings that the step after the heads is about. */
const zoneless = (code: string): boolean => code === "head-without-zone";

/** Findings that leave the drawing of pipes unfinished. */
const pipeless: ReadonlySet<string> = new Set(["heads-without-pipe"]);
