// Catch cans in the yard: where they are set out, read one by one, and what they say.

import { auditIDs, auditOf, canOrder, isRead, withoutAudit } from "../audits";
import { button } from "../dom";
import { capital } from "../names";
import type { CatchCan } from "../proof";
import { auditSetup } from "./auditsetup";
import { RESULT, SETUP, SettingOut } from "./canoffer";
import { canResult, following } from "./canresult";
import { goTo } from "./goto";
import { type Dot, headDots, picture } from "./map";
import { measures } from "./measures";
import { setCan } from "./records";
import { type Part as SectionPart, stepIn } from "./sections";
import type { Yard } from "./session";
import { column, figure, line, remade, type Screen, words } from "./ui";

/** A can that stands to be read still. */
const waits = (a: Parameters<typeof isRead>[0], c: CatchCan | undefined): boolean =>
  c !== undefined && !c.left_out && !isRead(a, c);

export class Cans implements SectionPart {
  readonly id = "cans";
  readonly title = "Cans";
  readonly #setOut: SettingOut;

  constructor(readonly yard: Yard) {
    this.#setOut = new SettingOut(yard, (item) => this.#go(item));
  }

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
    if (item === "new") return this.#setOut.open();
    const [audit = "", sub = ""] = item.split("/");
    if (sub === SETUP) return this.#setup(audit);
    if (sub === RESULT) return this.#result(audit);
    return this.#can(audit, sub);
  }

  #go(item: string): void {
    this.yard.go({ section: "cans", item });
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
        main: following(yard, audit),
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
