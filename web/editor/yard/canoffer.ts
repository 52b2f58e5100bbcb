// Where catch cans are set out: on which ground, how and how many, as the server offers
// it, and the audits there are.

import { auditIDs, auditName, auditOf, calledSo } from "../audits";
import { button, h } from "../dom";
import { apply } from "../merge";
import { count } from "../names";
import type { CansView } from "../proofview";
import { type Dot, headDots, picture } from "./map";
import { setAudit } from "./records";
import type { Yard } from "./session";
import { choose, column, line, type Option, type Part, pick, remade, type Screen } from "./ui";

/** Places within an audit that are no can. */
export const SETUP = "setup";
export const RESULT = "result";

/** The setting out of a new audit. */
export class SettingOut {
  #offer: CansView | null = null;
  #trouble = "";
  #asking = false;
  #area = "";
  #by = "grid";
  #count = "";

  constructor(
    readonly yard: Yard,
    readonly go: (item: string) => void,
  ) {}

  open(): Screen {
    const { yard } = this;
    const areas = (): Option[] =>
      Object.entries(yard.plan.areas ?? {})
        .filter(
          ([, a]) =>
            a.kind === "planting" && (a.watering ?? "overhead") === "overhead" && a.status !== "remove",
        )
        .sort(([a], [b]) => (a < b ? -1 : 1))
        .map(([value, a]) => ({ value, label: a.name }));
    this.#area ||= areas()[0]?.value ?? "";
    const again = (): void => {
      this.#offer = null;
      yard.changed();
    };
    const offered = remade(
      "",
      () => [this.#offer?.rev, this.#offer?.cans, this.#trouble, this.#asking],
      () => this.#offered(),
    );
    if (this.#area === "") return this.#nowhere();
    const part = column(
      "yard-one",
      line("yard-title", () => "Set out catch cans", "h2"),
      line(
        "yard-how",
        () =>
          "Cans of one kind stand on the ground while the zones run; what they catch tells how even the water really is.",
      ),
      pick(
        "On",
        areas,
        () => this.#area,
        (v) => {
          this.#area = v;
          again();
        },
      ),
      choose(
        "How",
        [
          { value: "grid", label: "In a grid" },
          { value: "heads", label: "By the heads" },
        ],
        () => this.#by,
        (v) => {
          this.#by = v;
          again();
        },
      ),
      choose(
        "How many",
        ["", "16", "24", "36", "48"].map((value) => ({ value, label: value || "As many as suit" })),
        () => this.#count,
        (v) => {
          this.#count = v;
          again();
        },
      ),
      offered,
      this.#audits(),
    );
    return {
      ...part,
      acts: () => {
        const offer = this.#offer;
        if (offer?.patch && (offer.cans ?? []).length > 0)
          return {
            main: { label: `Set out ${count(offer.cans?.length ?? 0, "can")}`, run: () => this.#take(offer) },
          };
        return {
          main: {
            label: this.#asking ? "Looking…" : "Show where",
            off: this.#asking,
            run: () => void this.#ask(),
          },
        };
      },
    };
  }

  #nowhere(): Screen {
    const part = line(
      "yard-lead",
      () => "There is no ground on this plan that sprinklers water: nothing to set out cans on.",
    );
    return { ...part, acts: () => ({}) };
  }

  async #ask(): Promise<void> {
    this.#asking = true;
    this.#trouble = "";
    this.yard.changed();
    const answer = await this.yard.asked.cans(this.#area, this.#by, this.#count);
    this.#asking = false;
    this.#offer = answer.ok ? answer.value : null;
    this.#trouble = answer.ok ? "" : answer.error;
    this.yard.board.announce(answer.ok ? answer.value.says : answer.error);
    this.yard.changed();
  }

  #offered(): Node[] {
    const { yard } = this;
    if (this.#trouble) return [h("p", { class: "error" }, this.#trouble)];
    const offer = this.#offer;
    if (!offer) return [];
    const cans = offer.cans ?? [];
    const dots: Dot[] = cans.map((c) => ({ at: [c.x_ft, c.y_ft], text: String(c.number), cls: "yard-can" }));
    const svg = picture(yard.plan, {
      title: `${count(cans.length, "can")} on the ground, numbered as they are walked`,
      dots: [...headDots(yard.plan, "", () => false), ...dots],
      around: cans.map((c) => [c.x_ft, c.y_ft] as const),
      margin: 6,
    });
    return [
      h("p", {}, offer.says),
      ...(svg ? [svg as unknown as Node] : []),
      h(
        "details",
        {},
        h("summary", {}, "By which rules"),
        h("ul", { class: "program-list" }, ...(offer.rules ?? []).map((r) => h("li", {}, r))),
      ),
    ];
  }

  #take(offer: CansView): void {
    const { yard } = this;
    if (!offer.patch) return;
    this.#offer = null;
    const next = apply(yard.plan, offer.patch);
    yard.step(offer.label, setAudit(next, offer.audit, { on: auditOf(next, offer.audit)?.on ?? yard.today }));
    this.go(`${offer.audit}/${SETUP}`);
  }

  #audits(): Part {
    const { yard } = this;
    return remade(
      "",
      () => [auditIDs(yard.plan).map((id) => auditName(yard.plan, id)), yard.view?.audits],
      () => {
        const all = auditIDs(yard.plan).reverse();
        if (all.length === 0) return [];
        const says = (id: string): string => {
          const said = yard.view?.audits?.find((a) => a.id === id)?.says ?? "";
          const name = `${calledSo(yard.plan, id)}: `;
          return said.startsWith(name) ? said.slice(name.length) : said;
        };
        const row = (id: string): HTMLElement => {
          const b = button("", "yard-row", () => this.go(`${id}/${RESULT}`));
          b.append(
            h("span", {}, h("b", {}, auditName(yard.plan, id)), " ", h("span", { class: "hint" }, says(id))),
          );
          return b;
        };
        return [h("h3", {}, "Audits of this plan"), h("div", { class: "yard-list" }, ...all.map(row))];
      },
    );
  }
}
