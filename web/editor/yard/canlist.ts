// Catch cans in the yard: where they are set out, read one by one, and what they say.

import { auditIDs, auditName, auditOf, canOrder, isRead, withoutAudit } from "../audits";
import { button, h } from "../dom";
import { apply } from "../merge";
import { capital, count } from "../names";
import type { CatchCan } from "../proof";
import type { CansView } from "../proofview";
import { auditSetup } from "./auditsetup";
import { canResult, taking } from "./canresult";
import { type Dot, headDots, picture } from "./map";
import { measures } from "./measures";
import { setAudit, setCan } from "./records";
import { type Part as SectionPart, stepIn } from "./sections";
import type { Yard } from "./session";
import {
  choose,
  column,
  figure,
  goTo,
  line,
  type Option,
  type Part,
  pick,
  remade,
  type Screen,
  words,
} from "./ui";

/** Places within an audit that are no can. */
const SETUP = "setup";
const RESULT = "result";

/** A can that stands to be read still. */
const waits = (a: Parameters<typeof isRead>[0], c: CatchCan | undefined): boolean =>
  c !== undefined && !c.left_out && !isRead(a, c);

export class Cans implements SectionPart {
  readonly id = "cans";
  readonly title = "Cans";
  #offer: CansView | null = null;
  #trouble = "";
  #asking = false;
  #area = "";
  #by = "grid";
  #count = "";

  constructor(readonly yard: Yard) {}

  left(): string {
    const { plan } = this.yard;
    const id = auditIDs(plan).at(-1);
    if (id === undefined) return "";
    const a = auditOf(plan, id);
    const left = Object.values(a?.cans ?? {}).filter((c) => waits(a, c)).length;
    return left === 0 ? "done" : `${left} left`;
  }

  at(item: string): string {
    const { plan } = this.yard;
    const [audit = "", sub = ""] = item.split("/");
    if (item === "new") return item;
    const known = auditIDs(plan);
    const id = item !== "" && known.includes(audit) ? audit : known.at(-1);
    if (id === undefined) return "new";
    const a = auditOf(plan, id);
    if (id === audit && (sub === SETUP || sub === RESULT || a?.cans?.[sub])) return item;
    const next = canOrder(a).find((c) => waits(a, a?.cans?.[c]));
    const begun = Object.keys(a?.runs ?? {}).length > 0;
    return `${id}/${!begun ? SETUP : (next ?? RESULT)}`;
  }

  made(item: string): string {
    return auditOf(this.yard.plan, item.split("/")[0] ?? "")?.scale ?? "";
  }

  open(item: string): Screen {
    if (item === "new") return this.#new();
    const [audit = "", sub = ""] = item.split("/");
    if (sub === SETUP) return this.#setup(audit);
    if (sub === RESULT) return this.#result(audit);
    return this.#can(audit, sub);
  }

  #go(item: string): void {
    this.yard.go({ section: "cans", item });
  }

  #new(): Screen {
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
    const part = column(
      "yard-one",
      line("yard-title", () => "Set out catch cans", "h2"),
      line("yard-how", () =>
        areas().length === 0
          ? "There is no ground on this plan that sprinklers water: nothing to set out cans on."
          : "Cans of one kind stand on the ground while the zones run; what they catch tells how even the water really is.",
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
        if (this.#area === "") return {};
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
    this.#go(`${offer.audit}/${SETUP}`);
  }

  #audits(): Part {
    const { yard } = this;
    return remade(
      "",
      () => [auditIDs(yard.plan).map((id) => auditName(yard.plan, id)), yard.view?.audits],
      () => {
        const all = auditIDs(yard.plan).reverse();
        if (all.length === 0) return [];
        const says = (id: string) => yard.view?.audits?.find((a) => a.id === id)?.says ?? "";
        const row = (id: string): HTMLElement => {
          const b = button("", "yard-row", () => this.#go(`${id}/${RESULT}`));
          b.append(
            h("span", {}, h("b", {}, auditName(yard.plan, id)), " ", h("span", { class: "hint" }, says(id))),
          );
          return b;
        };
        return [h("h3", {}, "Audits of this plan"), h("div", { class: "yard-list" }, ...all.map(row))];
      },
    );
  }

  #rows(audit: string) {
    const { plan } = this.yard;
    const a = auditOf(plan, audit);
    return canOrder(a).map((id, i) => {
      const c = a?.cans?.[id] as CatchCan;
      return {
        item: id,
        title: `Can ${i + 1}`,
        says: c.left_out ? "left out" : isRead(a, c) ? this.#caught(audit, c) : "",
        done: !waits(a, c),
      };
    });
  }

  #caught(audit: string, c: CatchCan): string {
    const { plan } = this.yard;
    const deep = auditOf(plan, audit)?.scale === "depth";
    const m = deep ? measures.depth : measures.ml;
    return `${m.text(deep ? c.depth_in : c.catch_ml, plan.show)} ${m.unit(plan.show)}`;
  }

  #setup(audit: string): Screen {
    const { yard } = this;
    const part = column(
      "yard-one",
      auditSetup(yard, audit),
      button("Take this audit away", "grave yard-big", () => {
        yard.step("Take an audit away", withoutAudit(yard.plan, audit));
        this.#go("new");
      }),
    );
    return {
      ...part,
      acts: () => {
        const [first] = canOrder(auditOf(yard.plan, audit));
        return {
          main:
            first === undefined
              ? null
              : { label: "Read the cans", run: () => this.#go(`${audit}/${this.#first(audit)}`) },
          back: { label: "Audits", run: () => this.#go("new") },
          next: { label: "Result", run: () => this.#go(`${audit}/${RESULT}`) },
        };
      },
    };
  }

  /** The first can that waits, else the first. */
  #first(audit: string): string {
    const a = auditOf(this.yard.plan, audit);
    const order = canOrder(a);
    return order.find((c) => waits(a, a?.cans?.[c])) ?? order[0] ?? RESULT;
  }

  #result(audit: string): Screen {
    const { yard } = this;
    const part = column("yard-one", canResult(yard, audit));
    return {
      ...part,
      acts: () => ({
        main: taking(yard, audit),
        back: { label: "Cans", run: () => this.#go(`${audit}/${this.#first(audit)}`) },
        next: { label: "Set-up", run: () => this.#go(`${audit}/${SETUP}`) },
      }),
    };
  }

  #can(audit: string, id: string): Screen {
    const { yard } = this;
    const a = () => auditOf(yard.plan, audit);
    const can = () => a()?.cans?.[id];
    const order = () => canOrder(a());
    const number = () => order().indexOf(id) + 1;
    const deep = a()?.scale === "depth";
    const what = () => `catch of can ${number()}`;
    const set = (label: string, change: Partial<CatchCan>): void =>
      yard.step(`${label} of can ${number()}`, setCan(yard.plan, audit, id, change));
    const on = (): string => stepIn(order(), id, 1) ?? RESULT;
    const caught = figure(yard, deep ? measures.depth : measures.ml, {
      key: `can/${audit}/${id}`,
      label: "It caught",
      what: what(),
      get: () => (deep ? can()?.depth_in : can()?.catch_ml),
      enter: () => this.#go(`${audit}/${on()}`),
      set: (v) =>
        set("Catch", deep ? { depth_in: v, left_out: undefined } : { catch_ml: v, left_out: undefined }),
    });
    caught.el.classList.add("yard-huge");
    const list = goTo(
      "All cans",
      () => this.#rows(audit),
      () => id,
      (c) => this.#go(`${audit}/${c}`),
    );
    const part = column(
      "yard-one",
      line("yard-says", () => {
        const left = order().filter((c) => waits(a(), a()?.cans?.[c])).length;
        return `${number()} of ${order().length} · ${left === 0 ? "all read" : `${left} to read`}`;
      }),
      line("yard-title", () => `Can ${number()}`, "h2"),
      line("", () => capital(yard.audit(audit)?.cans?.find((c) => c.id === id)?.where ?? "")),
      caught,
      remade("yard-acts", can, () => {
        const out = can()?.left_out === true;
        const b = button(
          out ? "Left out: count it after all" : "Tipped, or not to be trusted",
          "yard-big",
          () => {
            set(out ? "Counting" : "Leaving out", out ? { left_out: undefined } : { left_out: true });
            if (!out) this.#go(`${audit}/${on()}`);
          },
        );
        return [b];
      }),
      words(yard, {
        key: `can/${audit}/${id}/note`,
        label: "Note",
        what: `note on can ${number()}`,
        get: () => can()?.note,
        set: (note) => set("Note", { note }),
      }),
      remade(
        "yard-picture",
        () => [order().map((c) => !waits(a(), a()?.cans?.[c]))],
        () => this.#map(audit, id),
      ),
      list,
    );
    // Where each can stands is told with the audit.
    if (yard.audit(audit) === null) void yard.reckon(audit);
    return {
      ...part,
      first: caught.el.querySelector("input"),
      acts: () => {
        const back = stepIn(order(), id, -1);
        return {
          main: {
            label: on() === RESULT ? "To the result" : "Next can",
            run: () => this.#go(`${audit}/${on()}`),
          },
          back:
            back === null
              ? { label: "Set-up", run: () => this.#go(`${audit}/${SETUP}`) }
              : { label: "Back", run: () => this.#go(`${audit}/${back}`) },
          next: { label: "Result", run: () => this.#go(`${audit}/${RESULT}`) },
        };
      },
    };
  }

  #map(audit: string, here: string): Node[] {
    const { plan } = this.yard;
    const a = auditOf(plan, audit);
    const all = canOrder(a);
    const dots: Dot[] = all.map((id, i) => {
      const c = a?.cans?.[id] as CatchCan;
      const cls = `yard-can${id === here ? " here" : waits(a, c) ? "" : " done"}`;
      return { at: [c.x_ft, c.y_ft], text: String(i + 1), cls };
    });
    const svg = picture(plan, {
      title: `Can ${all.indexOf(here) + 1} among the cans, by the heads`,
      dots: [...headDots(plan, "", () => false), ...dots],
      around: dots.map((d) => d.at),
      margin: 5,
    });
    return svg ? [svg as unknown as Node] : [];
  }
}
