// An old system: its zones measured as they were found and after, how its heads stand,
// and what to mend first for the most water saved.

import { planURL } from "../api";
import type { AskLong } from "../asking";
import { button, h } from "../dom";
import { count } from "../names";
import type { RetrofitView } from "../proofview";
import { goTo } from "./goto";
import { runsOf } from "./records";
import { type Part as SectionPart, stepIn } from "./sections";
import type { Yard } from "./session";
import { column, line, remade, type Screen } from "./ui";
import { type Purpose, zoneScreen, zonesOf } from "./zoneruns";

export class OldSystem implements SectionPart {
  readonly id = "old";
  readonly title = "Old system";
  #view: RetrofitView | null = null;
  #trouble = "";
  #told = "";
  #off: AbortController | null = null;

  constructor(
    readonly yard: Yard,
    readonly ask: AskLong<RetrofitView>,
  ) {}

  left(): string {
    return "";
  }

  at(item: string): string {
    const [when, zone] = item.split("/");
    const known = zonesOf(this.yard).some((z) => z.id === zone);
    return (when === "before" || when === "after") && known ? item : "list";
  }

  made(): string {
    return "";
  }

  #go(item: string): void {
    this.yard.go({ section: "old", item });
  }

  open(item: string): Screen {
    const { yard } = this;
    if (item === "list") return this.#list();
    const [when, zone = ""] = item.split("/") as [Purpose, string];
    const inner = zoneScreen(yard, zone, when);
    const all = () => zonesOf(yard).map((z) => `${when}/${z.id}`);
    const part = column(
      "yard-one",
      line("yard-says", () => (when === "before" ? "As it was found" : "After mending")),
      inner.el,
      goTo(
        "All zones",
        () => this.#rows(when),
        () => item,
        (to) => this.#go(to),
      ),
    );
    return {
      el: part.el,
      update: () => {
        part.update();
        inner.update();
      },
      acts: () => {
        const next = stepIn(all(), item, 1);
        const back = stepIn(all(), item, -1);
        return {
          back: { label: back === null ? "Old system" : "Back", run: () => this.#go(back ?? "list") },
          next: next === null ? null : { label: "Next", run: () => this.#go(next) },
        };
      },
    };
  }

  #rows(when: Purpose) {
    const { yard } = this;
    return zonesOf(yard).map((z) => {
      const runs = runsOf(yard.plan, z.id, when);
      const says = z.runs.find((r) => r.id === runs.at(-1)?.[0])?.says ?? "";
      return { item: `${when}/${z.id}`, title: z.title, says, done: runs.length > 0 };
    });
  }

  #list(): Screen {
    const { yard } = this;
    const zones = (when: Purpose, title: string) =>
      goTo(
        title,
        () => this.#rows(when),
        () => "",
        (to) => this.#go(to),
      );
    const part = column(
      "yard-one",
      line("yard-title", () => "An old system", "h2"),
      line(
        "yard-how",
        () =>
          "Walk its heads and note what is wrong with each, run each zone as you find it, and see what to mend first.",
      ),
      button("Walk the heads", "yard-big", () => yard.go({ section: "heads", item: "" })),
      zones("before", "Zones as they were found"),
      zones("after", "Zones after mending"),
      remade(
        "yard-retrofit",
        () => [this.#view, this.#trouble, this.#told, this.#off !== null, yard.board.rev],
        () => this.#found(),
      ),
    );
    return {
      ...part,
      acts: () => ({
        main: this.#off
          ? { label: "Stop", run: () => this.#off?.abort() }
          : { label: "What to mend first", run: () => void this.#seek() },
      }),
    };
  }

  async #seek(): Promise<void> {
    const { yard } = this;
    if (yard.board.saved.state !== "yes") {
      this.#trouble = "Ask again when the plan is saved: it is worked out from what is stored.";
      return yard.changed();
    }
    const off = new AbortController();
    this.#off = off;
    this.#trouble = "";
    this.#told = "";
    yard.changed();
    const answer = await this.ask(
      `${planURL(yard.board.id)}/retrofit?rev=${yard.board.rev}`,
      off.signal,
      (t) => {
        this.#told = `${t.step} ${Math.round(t.share * 100)} %`;
        yard.changed();
      },
    );
    this.#off = null;
    if (answer?.ok) {
      this.#view = answer.value;
      yard.board.announce(answer.value.says);
    } else this.#trouble = answer?.error ?? "Stopped. Nothing is changed.";
    yard.changed();
  }

  #found(): Node[] {
    if (this.#off) return [h("p", { role: "status" }, `Working it out… ${this.#told}`)];
    if (this.#trouble) return [h("p", { class: "error" }, this.#trouble)];
    const v = this.#view;
    if (!v) return [];
    const out: (Node | null)[] = [
      v.rev === this.yard.board.rev
        ? null
        : h("p", { class: "hint" }, "The plan has changed since: ask again."),
      h("p", { class: "yard-lead" }, v.says),
      this.#mends(v),
      this.#census(v),
      this.#zones(v),
      v.assumed && v.assumed.length > 0
        ? h(
            "details",
            {},
            h("summary", {}, "What was assumed"),
            h("ul", { class: "program-list" }, ...v.assumed.map((a) => h("li", {}, a))),
          )
        : null,
    ];
    return out.filter((n): n is Node => n !== null);
  }

  #mends(v: RetrofitView): Node | null {
    const all = v.mends ?? [];
    if (all.length === 0) return null;
    return h(
      "section",
      {},
      h("h3", {}, "What to mend, the most water first"),
      h(
        "ol",
        { class: "yard-list yard-mends" },
        ...all.map((m) => {
          const [first] = m.heads ?? [];
          return h(
            "li",
            { class: "yard-fault" },
            h("p", {}, h("b", {}, m.says)),
            h("p", {}, "Saves: ", h("b", {}, m.saves)),
            m.why ? h("p", { class: "hint" }, m.why) : null,
            first
              ? button("Go there", "yard-big", () => this.yard.go({ section: "heads", item: first }))
              : null,
          );
        }),
      ),
    );
  }

  #census(v: RetrofitView): Node | null {
    const all = v.census ?? [];
    if (all.length === 0) return null;
    return h(
      "section",
      {},
      h("h3", {}, "How its heads stand"),
      h(
        "ul",
        { class: "program-list" },
        ...all.map((c) =>
          h("li", {}, h("b", {}, `${c.state}: ${count(c.count, "head")}`), c.tags ? ` (${c.tags})` : ""),
        ),
      ),
    );
  }

  #zones(v: RetrofitView): Node | null {
    const all = v.zones ?? [];
    if (all.length === 0) return null;
    const row = (z: (typeof all)[number]): HTMLElement => {
      const pairs = [
        ["Flow", z.flow],
        ["Pressure", z.pressure],
        ["Evenness", z.du],
        ["Water", z.water],
        ["Saves", z.saves],
      ];
      return h(
        "li",
        {},
        h("h3", {}, z.name),
        h("dl", {}, ...pairs.flatMap(([k, t]) => [h("dt", {}, k ?? ""), h("dd", {}, t || "–")])),
      );
    };
    return h(
      "details",
      {},
      h("summary", {}, "Zones before and after"),
      h("ul", { class: "yard-list" }, ...all.map(row)),
    );
  }
}
