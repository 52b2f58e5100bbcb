// What is told of a selected pipe or head with its zone running.

import type { Design, HeadReading, PipeReading, PipeRun } from "../design";
import { find, type Plan, parts, type Ref } from "../model";
import { capital } from "../names";
import { runOf, runText } from "../pipelook";

/** A head with its zone running; nothing where that is not worked out. */
export function runningFacts(r: HeadReading): [string, string][] {
  if (!r.running) return [];
  const trouble = r.trouble ? `; ${r.trouble}` : "";
  return [["With its zone running", `${r.running}${trouble}`]];
}

const MM_AN_INCH = 25.4;

/** How wide a pipe is inside, and how its class takes that from the standard. */
export function insideFacts(p: Plan, id: string): [string, string][] {
  const pipe = find(p, "pipes", id);
  const row = find(p, "pipe_classes", pipe?.class ?? "");
  const inside = row?.sizes.find((s) => s.nominal_in === pipe?.nominal_in)?.inside_in;
  if (!row || inside === undefined) return [];
  const width = p.show === "metric" ? `${(inside * MM_AN_INCH).toFixed(1)} mm` : `${inside.toFixed(3)} in`;
  return [["Inside diameter", [width, row.convention].filter(Boolean).join("; ")]];
}

/** What passes a pipe: of the main, while the zone runs that sends the most through it. */
export function pipeFacts(p: Plan, r: PipeReading | undefined, away: boolean): [string, string][] {
  if (away) return [["Flow and pressure", "not computed"]];
  if (!r) return [];
  const most = r.runs.find((run) => run.most) ?? r.runs[0];
  return most ? [runFact(p, most)] : [["Flow and pressure", "not worked out; the Pressure table says why"]];
}

/** What passes a pipe of the main while each of the other zones runs. */
export function otherRuns(p: Plan, r: PipeReading | undefined): [string, string][] {
  const most = r?.runs.find((run) => run.most) ?? r?.runs[0];
  return (r?.runs ?? []).filter((run) => run !== most).map((run) => runFact(p, run));
}

const runFact = (p: Plan, run: PipeRun): [string, string] => [
  `While ${find(p, "zones", run.zone)?.name ?? "its zone"} runs`,
  runText(run),
];

/** A head or a pipe in its row of the table: what it really gets, trouble first. */
export function runningText(design: Design | null, r: Ref): string {
  const [c, id] = parts(r);
  if (c === "heads") {
    const { running, trouble } = design?.heads[id] ?? {};
    return trouble && running ? `${capital(trouble)} (${running})` : (running ?? "");
  }
  const run = c === "pipes" ? runOf(design?.pipes?.[id], "") : null;
  return run ? runText(run) : "";
}
