// The start-up: its steps one by one, what was held at pressure, and each zone run.

import { button, h } from "../dom";
import { count } from "../names";
import { goTo } from "./goto";
import { pressureTests } from "./pressuretests";
import { dropRecord, recordsOf, setRecord } from "./records";
import { type Part as SectionPart, stepIn } from "./sections";
import type { Yard } from "./session";
import { caution, column, day, line, type Part, remade, type Screen, words } from "./ui";
import { zoneScreen, zonesOf } from "./zoneruns";

/** What a step is done by elsewhere on the page, by the step's name (internal/proof, start_steps.go). */
const elsewhere: Readonly<
  Record<string, { readonly label: string; readonly section: "wires" | "heads" | "built" }>
> = {
  wires: { label: "Go to the wires", section: "wires" },
  nozzles: { label: "Go to the nozzles", section: "heads" },
  record: { label: "Go to what was built", section: "built" },
};

/** Steps at which pipe is held at pressure. */
const tested: ReadonlySet<string> = new Set(["hold", "laterals"]);

/** The step before which each zone is run. */
const RUN = "run";

/** The step of the licensed tester. */
const TESTER = "backflow_test";

/** A part that stands only once a step is done. */
function dated(part: Part, done: () => unknown): Part {
  const update = (): void => {
    part.update();
    part.el.hidden = done() === undefined;
  };
  update();
  return { el: part.el, update };
}

const wrapped = (el: HTMLElement): Part => ({ el, update: () => {} });

export class StartUp implements SectionPart {
  readonly id = "start";
  readonly title = "Start up";

  constructor(readonly yard: Yard) {}

  get #steps() {
    return this.yard.view?.start.steps ?? [];
  }

  /** Whether a step is done, by the plan itself: the view may be a moment behind. */
  #done(id: string): boolean {
    const now = this.yard.plan.proof?.checks?.[id];
    return now !== undefined || (id === TESTER && this.#steps.find((s) => s.id === id)?.on !== "");
  }

  /** Steps and zones in the order they are done. */
  #items(): string[] {
    const zones = zonesOf(this.yard).map((z) => `zone/${z.id}`);
    const { proof, heads } = this.yard.plan;
    // Without zones, heads or anything done there is nothing that could be started up.
    if (zones.length === 0 && Object.keys({ ...heads, ...proof?.checks }).length === 0) return [];
    const steps = this.#steps.map((s) => `step/${s.id}`);
    const at = steps.indexOf(`step/${RUN}`);
    return at < 0 ? [...steps, ...zones] : [...steps.slice(0, at), ...zones, ...steps.slice(at)];
  }

  #isDone(item: string): boolean {
    const [kind, id = ""] = item.split("/");
    if (kind === "step") return this.#done(id);
    return (this.yard.view?.start.zones ?? []).some((z) => z.id === id && (z.runs ?? []).length > 0);
  }

  left(): string {
    const items = this.#items();
    if (!this.yard.view || items.length === 0) return "";
    const left = items.filter((i) => !this.#isDone(i)).length;
    return left === 0 ? "done" : `${left} left`;
  }

  at(item: string): string {
    const all = this.#items();
    if (this.yard.waiting) return item;
    if (all.includes(item)) return item;
    return all.find((i) => !this.#isDone(i)) ?? all[0] ?? "";
  }

  made(item: string): string {
    return item === "" ? "none" : "";
  }

  open(item: string): Screen {
    const [kind, id = ""] = item.split("/");
    if (kind === "zone") return this.#framed(item, zoneScreen(this.yard, id, "start_up"));
    if (kind === "step") return this.#framed(item, this.#step(id));
    return this.#nothing();
  }

  #nothing(): Screen {
    const part = line("yard-lead", () =>
      this.yard.view
        ? "There is nothing to start up yet: draw the system on the board first, as it is or as it will be. Wires can be found and photographs kept without."
        : this.yard.trouble || "The log is being made.",
    );
    return { ...part, acts: () => ({}) };
  }

  /** With how far one is above, the whole list below, and the way on. */
  #framed(item: string, inner: Screen): Screen {
    const { yard } = this;
    const go = (to: string | null): void => {
      if (to !== null) yard.go({ section: "start", item: to });
    };
    const list = goTo(
      "All steps and zones",
      () => this.#rows(),
      () => item,
      go,
    );
    const part = column(
      "yard-one",
      line("yard-says", () => yard.view?.start.says ?? ""),
      inner.el,
      list,
    );
    return {
      el: part.el,
      update: () => {
        part.update();
        inner.update();
      },
      acts: () => {
        const all = this.#items();
        const [back, next] = [stepIn(all, item, -1), stepIn(all, item, 1)];
        const own = inner.acts();
        return {
          main: own.main ?? null,
          back: back === null ? null : { label: "Back", run: () => go(back) },
          next: next === null ? null : { label: "Next", run: () => go(next) },
        };
      },
    };
  }

  #rows() {
    return this.#items().map((item) => {
      const [kind, id = ""] = item.split("/");
      const zone = kind === "zone" ? zonesOf(this.yard).find((z) => z.id === id) : undefined;
      const step = this.#steps.find((s) => s.id === id);
      const run = zone?.runs?.at(-1);
      return {
        item,
        title: zone ? zone.title : (step?.title ?? ""),
        says: zone ? (run?.says ?? "") : (step?.on ?? ""),
        done: this.#isDone(item),
      };
    });
  }

  #step(id: string): Screen {
    const { yard } = this;
    const step = () => this.#steps.find((s) => s.id === id);
    const key = `check/${id}`;
    const done = () => yard.plan.proof?.checks?.[id];
    const how = elsewhere[id];
    const part = column(
      "yard-step",
      line("yard-title", () => step()?.title ?? "", "h2"),
      line("yard-how", () => step()?.how ?? ""),
      caution(() => step()?.caution ?? ""),
      how ? button(how.label, "yard-big", () => yard.go({ section: how.section, item: "" })) : null,
      tested.has(id) ? pressureTests(yard, id === "hold") : null,
      id === RUN ? this.#toZones() : null,
      words(
        yard,
        {
          key: `${key}/note`,
          label: "What was seen",
          what: `note on “${step()?.title ?? ""}”`,
          get: () => done()?.note,
          waits: () => !done(),
          set: (note) => this.#check(id, step()?.title ?? "", { note }),
        },
        true,
      ),
      words(yard, {
        key: `${key}/by`,
        label: "Who did it",
        what: "who did it",
        get: () => done()?.by ?? yard.by,
        set: (by) => {
          yard.by = by ?? "";
          if (done()) this.#check(id, step()?.title ?? "", { by });
        },
      }),
      remade(
        "",
        () => [done(), step()?.on],
        () => {
          const d = done();
          const on = step()?.on ?? "";
          const text = d ? (d.by ? `Done by ${d.by}.` : "") : on && `Done on ${on}.`;
          return text ? [h("p", { class: "yard-was-done" }, text)] : [];
        },
      ),
      dated(
        day(
          "Done on",
          () => done()?.on,
          (on) => this.#check(id, step()?.title ?? "", { on }),
        ),
        done,
      ),
      dated(wrapped(button("Not done yet", "yard-big", () => this.#untick(id, step()?.title ?? ""))), done),
    );
    return {
      ...part,
      acts: () => {
        if (this.#done(id)) return {};
        const next = stepIn(this.#items(), `step/${id}`, 1);
        return {
          main: {
            label: "Done",
            run: () => {
              const note = yard.scraps.of(`${key}/note`)?.trim();
              this.#check(id, step()?.title ?? "", { by: yard.by || undefined, note: note || undefined });
              yard.scraps.drop(`${key}/note`);
              if (next !== null) yard.go({ section: "start", item: next });
            },
          },
        };
      },
    };
  }

  #toZones(): HTMLElement {
    const zones = zonesOf(this.yard);
    return h(
      "p",
      {},
      zones.length > 0 ? `${count(zones.length, "zone")} to run: they come before this in the list.` : "",
    );
  }

  #untick(id: string, title: string): void {
    const { yard } = this;
    const on = yard.plan.proof?.checks?.[id]?.on;
    let next = dropRecord(yard.plan, "checks", id);
    if (id === TESTER && next.site?.backflow_tested_on === on) {
      const { backflow_tested_on: _was, ...site } = next.site ?? {};
      next = { ...next, site };
    }
    yard.step(`Untick “${title}”`, next);
  }

  #check(id: string, title: string, change: { on?: string; note?: string; by?: string }): void {
    const { yard } = this;
    const now = recordsOf(yard.plan, "checks").find(([k]) => k === id)?.[1];
    const on = change.on ?? now?.on ?? yard.today;
    const label = now ? `Note on “${title}”` : `Tick “${title}”`;
    let next = setRecord(yard.plan, "checks", id, { ...change, on });
    // The date of the test is the system's, and goes into its papers.
    if (id === TESTER) next = { ...next, site: { ...next.site, backflow_tested_on: on } };
    const all = this.#steps.every((s) => s.id === id || this.#done(s.id));
    if (all && !next.proof?.started_up) next = { ...next, proof: { ...next.proof, started_up: on } };
    yard.step(label, next);
  }
}
