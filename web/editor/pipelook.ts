// How the pipes are shown: plain, by the velocity in them or by the pressure left
// in them, and for which zone the main is told. A way of looking, not a part of
// the plan.

import type { Design, PipeReading, PipeRun } from "./design";
import { find, type Plan, parts, type Ref } from "./model";

export type PipesBy = "plain" | "velocity" | "pressure";

export const pipesBy: Readonly<Record<PipesBy, string>> = {
  plain: "Plain",
  velocity: "Velocity",
  pressure: "Pressure",
};

export class PipeLook {
  #by: PipesBy = "plain";

  constructor(readonly changed: () => void) {}

  get by(): PipesBy {
    return this.#by;
  }

  show(by: PipesBy): void {
    if (by === this.#by) return;
    this.#by = by;
    this.changed();
  }
}

/** The zone of what is selected; "" where that is of none or of several. */
export function zoneChosen(p: Plan, selection: Iterable<Ref>): string {
  const zones = new Set<string>();
  for (const r of selection) zones.add(zoneOf(p, r));
  zones.delete("");
  const [only] = zones;
  return zones.size === 1 ? (only as string) : "";
}

function zoneOf(p: Plan, r: Ref): string {
  const [c, id] = parts(r);
  switch (c) {
    case "heads":
    case "pipes":
    case "nodes":
      return find(p, c, id)?.zone ?? "";
    case "valves":
    case "zones":
      return id;
    default:
      return "";
  }
}

/** What passes a pipe: of the main while the chosen zone runs, else while the thirstiest does. */
export function runOf(pipe: PipeReading | undefined, zone: string): PipeRun | null {
  if (!pipe) return null;
  if (pipe.zone !== "" || zone === "") return pipe.runs.find((r) => r.most) ?? null;
  return pipe.runs.find((r) => r.zone === zone) ?? null;
}

/** The step of its colour, from 0. */
export const stepOf = (run: PipeRun, by: PipesBy): number =>
  by === "velocity" ? run.velocity_step : run.pressure_step;

/** The figure written along it. */
export const figureOf = (run: PipeRun, by: PipesBy): string =>
  by === "velocity" ? run.velocity : run.pressure;

/** A pipe's water in words: "9.2 gpm at 3.4 ft/s, loses 0.6 psi, 48.1 psi left". */
export const runText = (run: PipeRun): string =>
  `${run.flow} at ${run.velocity}${run.rank === "mend" ? ", too fast" : ""}, loses ${run.loss}, ${run.pressure} left`;

/** The heads that get too little or too much water pressure, by id. */
export const troubled = (design: Design | null): readonly string[] =>
  (design?.pressures ?? []).flatMap((z) => z.trouble);
