// A zone run by hand: what is predicted, what was measured, and under the hand what a
// difference most likely means.

import { button, h } from "../dom";
import { find } from "../model";
import { count } from "../names";
import type { ZoneRun } from "../proof";
import type { ProofRun, ProofZone } from "../proofview";
import { measures } from "./measures";
import { photoButton } from "./photobutton";
import { dropRun, recordID, runsOf, setRun } from "./records";
import type { Yard } from "./session";
import { stopwatch } from "./stopwatch";
import { choose, column, figure, line, type Part, remade, type Screen, words } from "./ui";

export type Purpose = NonNullable<ZoneRun["when"]>;

/** A zone to be run, with what the server says of it if it has yet. */
export interface ZoneRow {
  readonly id: string;
  readonly title: string;
  readonly view: ProofZone | null;
  readonly runs: readonly ProofRun[];
}

/** The zones by station. */
export function zonesOf(yard: Yard): ZoneRow[] {
  const views = yard.view?.start.zones;
  if (views) {
    return views
      .filter((z) => find(yard.plan, "zones", z.id))
      .map((z) => ({
        id: z.id,
        title: z.station ? `Zone ${z.station}, ${z.name}` : z.name,
        view: z,
        runs: z.runs ?? [],
      }));
  }
  return Object.entries(yard.plan.zones ?? {})
    .filter(([, z]) => z.status !== "remove")
    .sort(([a, x], [b, y]) => (x.station ?? 0) - (y.station ?? 0) || (a < b ? -1 : 1))
    .map(([id, z]) => ({
      id,
      title: z.station ? `Zone ${z.station}, ${z.name}` : z.name,
      view: null,
      runs: [],
    }));
}

/** What to expect, as pairs of name and figure. */
function expected(z: ProofZone | null): [string, string][] {
  if (!z) return [];
  const at = z.head_tag ? `Pressure at head ${z.head_tag}` : "Pressure while it runs";
  const pairs: [string, string][] = [
    ["Pressure at rest", z.static],
    ["Flow", z.flow],
    [at, z.pressure],
    ["The meter takes", z.meter_time],
  ];
  return pairs.filter(([, v]) => v !== "");
}

/** What the server makes of a run, in a sentence; its room is kept while there is none, so that nothing jumps under a thumb. */
function verdict(run: () => ProofRun | undefined): Part {
  const part = remade(
    "yard-verdict-room",
    () => run() ?? null,
    () => {
      const r = run();
      if (!r?.says) return [h("p", { class: "hint" }, "How that compares with the plan is said here.")];
      const good = r.known ? (r.good ? "yes" : "no") : "unknown";
      return [h("p", { class: "yard-verdict", "data-good": good }, r.says)];
    },
  );
  part.el.setAttribute("role", "status");
  return part;
}

/** What a difference most likely means, and what to do. */
function causes(run: () => ProofRun | undefined): Part {
  return remade("", run, () => {
    const all = (run()?.likely ?? []).map((l, i) =>
      h(
        "li",
        {},
        h("b", {}, i === 0 ? `Most likely: ${l.cause}` : l.cause),
        l.why ? h("p", {}, l.why) : null,
        l.do ? h("p", { class: "yard-do" }, l.do) : null,
      ),
    );
    return all.length > 0
      ? [h("ol", { class: "yard-likely", "aria-label": "What it most likely means" }, ...all)]
      : [];
  });
}

/** One zone, run for one purpose. */
export function zoneScreen(yard: Yard, zone: string, when: Purpose): Screen {
  const row = () => zonesOf(yard).find((z) => z.id === zone);
  const runs = () => runsOf(yard.plan, zone, when);
  // The run that is typed into: the newest, or the one that begins with the first figure.
  let fresh: string | null = null;
  const current = (): string | null => fresh ?? runs().at(-1)?.[0] ?? null;
  const run = (): ZoneRun | undefined => {
    const id = current();
    return id === null ? undefined : runs().find(([k]) => k === id)?.[1];
  };
  const told = () => row()?.runs.find((r) => r.id === current());
  const title = () => row()?.title ?? "A zone no longer here";
  const set = (what: string, change: Partial<ZoneRun>): void => {
    let id = current();
    if (id === null || !run()) {
      id = id ?? recordID("r");
      fresh = id;
      const begun: Partial<ZoneRun> = { on: yard.today, ...(when === "start_up" ? {} : { when }) };
      yard.step(`${what} of ${title()}`, setRun(yard.plan, zone, id, { ...begun, ...change }));
      return;
    }
    yard.step(`${what} of ${title()}`, setRun(yard.plan, zone, id, change));
  };
  type Figure = "static_psi" | "running_psi" | "flow_gpm" | "meter_gal" | "meter_s";
  const a = (key: Figure, label: string, name: string) => ({
    key: `run/${zone}/${when}/${key}`,
    label,
    what: `${name.toLowerCase()} of ${title()}`,
    get: () => run()?.[key],
    set: (v: number | undefined) => {
      const head = row()?.view?.head;
      // Which head the gauge was on is known while the prediction names one.
      const at: Partial<ZoneRun> =
        key === "running_psi" && v !== undefined && (run()?.psi_at ?? "head") === "head" && head
          ? { at_head: head }
          : {};
      set(name, { [key]: v, ...at });
    },
  });
  const predicted = remade(
    "yard-expected",
    () => row()?.view && expected(row()?.view ?? null),
    () => {
      const pairs = expected(row()?.view ?? null);
      const unknown = row()?.view?.unknown ?? "";
      return [
        ...(pairs.length > 0
          ? [h("dl", {}, ...pairs.flatMap(([k, v]) => [h("dt", {}, k), h("dd", {}, v)]))]
          : []),
        ...(unknown ? [h("p", { class: "hint" }, unknown)] : []),
      ];
    },
  );
  const part = column(
    "yard-zone",
    line("yard-title", title, "h2"),
    h("h3", {}, "What to expect"),
    predicted,
    h("h3", {}, "What was measured"),
    column(
      "yard-fields",
      figure(yard, measures.psi, a("static_psi", "At rest", "Static pressure")),
      figure(yard, measures.psi, a("running_psi", "While it runs", "Running pressure")),
      figure(yard, measures.gpm, a("flow_gpm", "Flow, as read", "Flow")),
    ),
    verdict(told),
    choose(
      "The running pressure was read at",
      [
        { value: "head", label: "The head" },
        { value: "valve", label: "The valve" },
        { value: "tap", label: "A tap" },
      ],
      () => run()?.psi_at ?? "head",
      (v) =>
        set("Place of the gauge", {
          psi_at: v as "head",
          at_head: v === "head" ? row()?.view?.head : undefined,
        }),
    ),
    h("h3", {}, "By the meter, or by a bucket and a watch"),
    column(
      "yard-fields",
      figure(yard, measures.gallons, a("meter_gal", "It counted", "Count")),
      figure(yard, measures.seconds, a("meter_s", "In a time of", "Time")),
      stopwatch(`${yard.board.id} ${zone} ${when}`, (seconds) =>
        set("Time by the watch", { meter_s: seconds }),
      ),
    ),
    causes(told),
    words(
      yard,
      {
        key: `run/${zone}/${when}/note`,
        label: "Note",
        what: `note on ${title()}`,
        get: () => run()?.note,
        set: (note) => set("Note", { note }),
      },
      true,
    ),
    remade(
      "yard-acts",
      () => [run(), runs().length],
      () => {
        const now = run();
        const id = current();
        if (!now || id === null) return [];
        const flushed = button(
          now.flushed ? `Flushed ${now.flushed}` : "Its lateral is flushed",
          "yard-big",
          () => set("Flushing", { flushed: now.flushed ? undefined : yard.today }),
        );
        flushed.setAttribute("aria-pressed", String(now.flushed !== undefined));
        return [
          flushed,
          button("Run it again", "yard-big", () => {
            fresh = recordID("r");
            yard.changed();
            yard.board.announce("A new run: put in what is measured now.");
          }),
          button("Take this run away", "yard-big grave", () => {
            fresh = null;
            yard.step(`Take a run of ${title()} away`, dropRun(yard.plan, zone, id));
          }),
        ];
      },
    ),
    photoButton(yard, `zones/${zone}`, title),
    remade(
      "yard-earlier",
      () => row()?.runs.filter((r) => r.id !== current() && runs().some(([k]) => k === r.id)),
      () => {
        const earlier = (row()?.runs ?? []).filter(
          (r) => r.id !== current() && runs().some(([k]) => k === r.id),
        );
        if (earlier.length === 0) return [];
        return [
          h(
            "details",
            {},
            h("summary", {}, `${count(earlier.length, "run")} before this one`),
            h("ul", {}, ...earlier.map((r) => h("li", {}, r.says))),
          ),
        ];
      },
    ),
  );
  return { ...part, acts: () => ({}) };
}
