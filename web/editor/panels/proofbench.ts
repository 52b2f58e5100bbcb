// The bench of an audit: which one, cans to set out, how it was made, what each can
// caught, and what that comes to.

import { ask, planURL } from "../api";
import { type AuditField, areaChoices, auditFields, minutesOf, oldMinutes, zonesAsked } from "../auditfields";
import { Auditing, canWays } from "../auditing";
import { auditIDs, auditName, auditOf, OLD, withAudit, withoutAudit } from "../audits";
import { atMostEvery, button, focusLost, h, setText } from "../dom";
import type { Drawing } from "../drawing";
import { parseNumber } from "../fields";
import { civilDate } from "../findings";
import { type Plan, parts } from "../model";
import { count } from "../names";
import type { AuditView, CansView } from "../proofview";
import { newAudit } from "../tools/cans";
import { AuditAnswer } from "./auditanswer";
import { Bench } from "./bench";
import { CanTable } from "./cantable";
import { Control } from "./control";

/** As many cans as are offered until another number is typed, and the most the plan takes. */
const USUAL_CANS = 24;
const MOST_CANS = 2000;

/** Pixels a foot below which the board shows no figures: see the scene. */
const WORDS_FROM = 5;

let form: AuditForm | null = null;

/** Opens the form. */
export function showAudit(): void {
  form?.open();
}

export class AuditForm {
  readonly #bench: Bench;
  readonly #a: Auditing;
  readonly #which = new Control("Audit", "choice", "", (id) => this.#choose(id));
  readonly #area = new Control("Area", "choice", "", (v) => this.#ask({ area: v }));
  readonly #way = new Control("Set out", "choice", "", (v) => this.#ask({ by: v }));
  readonly #count = new Control("Cans", "text", "", (v) => this.#counted(v));
  readonly #seek = button("Offer cans", "main", () => void this.#a.seek(this.#asked()));
  readonly #setOut: HTMLDetailsElement;
  readonly #offer = h("div", { class: "form cans-offer", hidden: true });
  readonly #offerSays = h("p", {});
  readonly #offerRules = h("ul", { class: "offer-why" });
  readonly #made = h("div", { class: "pairs" });
  readonly #ran = h("div", { class: "pairs" });
  readonly #madePart: HTMLDetailsElement;
  readonly #madeNow = h("span", { class: "hint water-now" });
  readonly #table: CanTable;
  readonly #answer: AuditAnswer;
  readonly #old = h(
    "p",
    { class: "hint" },
    "This audit is of an older plan, which could keep one only: all its zones ran the same time.",
  );
  readonly #whole: HTMLElement;
  readonly #take = button("Take these", "main", () => void this.#taken());
  readonly #drop = button("Not these", "", () => this.#a.drop());
  readonly #byHand = button("Set by hand", "", () =>
    this.d.commands.run("proof.cans", (why) => this.#tell(why)),
  );
  readonly #delete = button("Delete audit", "grave small", () => this.#remove());
  readonly #close = button("Close", "", () => this.#bench.leave());
  #wish: { area: string; by: string; count: number } = { area: "", by: "grid", count: USUAL_CANS };
  #fields: { of: AuditField; control: Control }[] = [];
  #signature = "";
  #refused = "";

  constructor(readonly d: Drawing) {
    form = this;
    const { board } = d;
    const soon = atMostEvery(50, () => this.#render());
    const at = planURL(board.id);
    this.#a = new Auditing(board, soon, {
      audit: (id) => ask<AuditView>("GET", `${at}/audit?audit=${encodeURIComponent(id)}`),
      cans: (q) =>
        ask<CansView>("GET", `${at}/cans?area=${encodeURIComponent(q.area)}&by=${q.by}&count=${q.count}`),
    });
    const audits = this.#a;
    this.#bench = new Bench(d, "audit", "Catch-can audit", {
      search: {
        title: "Setting out cans",
        get underway() {
          return audits.busy;
        },
        stop: () => audits.drop(),
      },
      get stale() {
        return audits.stale;
      },
      look: () => this.#look(),
      leave: () => audits.leave(),
    });
    this.#table = new CanTable(board, (sentence) => this.#tell(sentence));
    this.#answer = new AuditAnswer(board, () => void this.#a.use());
    const rules = h("details", {}, h("summary", {}, "By which rules"), this.#offerRules);
    this.#offer.append(this.#offerSays, rules);
    this.#setOut = h(
      "details",
      { class: "audit-fold" },
      h("summary", {}, "Set out cans"),
      h(
        "div",
        { class: "form" },
        h("div", { class: "pairs" }, this.#area.el, this.#count.el),
        this.#way.el,
        h("p", { class: "acts" }, this.#seek, this.#byHand),
        this.#offer,
      ),
    );
    this.#madePart = h(
      "details",
      { class: "audit-fold" },
      h("summary", {}, "How it was made", this.#madeNow),
      h("div", { class: "form" }, this.#old, h("h3", {}, "How long each zone ran"), this.#ran, this.#made),
    );
    this.#whole = h(
      "div",
      { class: "form" },
      this.#madePart,
      this.#answer.says,
      this.#table.el,
      this.#answer.el,
    );
    this.#bench.body.append(
      this.#which.el,
      this.#setOut,
      this.#whole,
      h("p", { class: "acts" }, this.#delete),
    );
    this.#bench.acts.append(this.#take, this.#drop, this.#close);
    for (const topic of ["plan", "selection", "audit", "layers"] as const) board.subscribe(topic, soon);
    board.subscribe("plan", () => this.#a.follow());
  }

  open(): void {
    if (this.#bench.isOpen) {
      this.#bench.title.focus();
      return;
    }
    this.#refused = "";
    const { plan, selection } = this.d.board;
    const [chosen] = [...selection].filter((r) => parts(r)[0] === "areas").map((r) => parts(r)[1]);
    const areas = areaChoices(plan);
    const wanted = [chosen, auditOf(plan, this.#a.id)?.area, this.#wish.area].find((id) =>
      areas.some((c) => c.value === id),
    );
    this.#wish = { ...this.#wish, area: wanted ?? areas[0]?.value ?? "" };
    this.#setOut.open = this.#a.id === null;
    this.#bench.open();
    this.#a.open();
    this.#render();
  }

  #look(): void {
    const offered = this.#a.offer !== null;
    this.#a.look();
    if (offered && this.#a.offer === null) this.#bench.release();
  }

  #tell(sentence: string): void {
    this.#refused = sentence;
    this.#render();
  }

  #asked(): { area: string; by: string; count: number } {
    this.#refused = "";
    return this.#wish;
  }

  #ask(part: Partial<{ area: string; by: string; count: number }>): null {
    this.#wish = { ...this.#wish, ...part };
    this.#a.drop();
    this.#render();
    return null;
  }

  async #taken(): Promise<void> {
    this.#setOut.open = false;
    await this.#a.take();
    this.#bench.body.scrollTop = 0;
  }

  #counted(typed: string): string | null {
    const v = parseNumber(typed, "cans", 1, MOST_CANS);
    if (!v.ok) return v.sentence;
    return Number.isInteger(v.value) ? this.#ask({ count: v.value }) : "Type a whole number of cans.";
  }

  #choose(id: string): null {
    this.#refused = "";
    if (id !== NEW) {
      this.#a.choose(id.slice(1));
      return null;
    }
    const { board } = this.d;
    const [plan, made] = newAudit(board.committed, null, civilDate(new Date()));
    const area = this.#wish.area;
    const named = area ? withAudit(plan, made, { ...auditOf(plan, made), area }) : plan;
    void board.commit("Begin an audit", named);
    this.#a.choose(made);
    this.#setOut.open = true;
    return null;
  }

  #remove(): void {
    const { board } = this.d;
    const { id } = this.#a;
    if (id === null) return;
    const name = auditName(board.plan, id);
    void board.commit(`Delete the audit ${name}`, withoutAudit(board.committed, id));
    board.announce(`${name} deleted. Undo brings it back.`);
  }

  /** Makes the fields of how the audit was made, which go by units, zones and its cans. */
  #build(p: Plan, id: string): void {
    const zones = id === OLD ? [] : zonesAsked(p, id);
    const made = auditFields(p, id);
    const signature = [
      id,
      p.show,
      ...made.map((f) => f.key),
      ...zones.map((z) => `${z.zone} ${z.label}`),
    ].join("|");
    if (signature === this.#signature) return;
    this.#signature = signature;
    const control = (of: AuditField, label = of.label): HTMLElement => {
      const c = new Control(
        label,
        of.as,
        of.hint?.(p) ?? "",
        (typed) => this.#set(of, typed, label),
        of.empty,
      );
      if (of.as === "text" && of.hint)
        (c.input as HTMLInputElement).inputMode = of.key === "on" ? "numeric" : "decimal";
      this.#fields.push({ of, control: c });
      return c.el;
    };
    this.#fields = [];
    this.#made.replaceChildren(...made.map((f) => control(f)));
    this.#ran.replaceChildren(
      ...(id === OLD ? [control(oldMinutes)] : zones.map((z) => control(minutesOf(z.zone), z.label))),
    );
  }

  #set(f: AuditField, typed: string, label: string): string | null {
    const { board } = this.d;
    const { id } = this.#a;
    if (id === null) return null;
    const next = f.set(board.committed, id, typed);
    if (!next.ok) return next.sentence;
    const what = f.key.startsWith("runs/") ? `the minutes of ${label}` : label.toLowerCase();
    void board.commit(`Audit: set ${what}`, next.value);
    return null;
  }

  #render(): void {
    if (!this.#bench.isOpen) return;
    const { board } = this.d;
    const { plan } = board;
    const within = this.#bench.el.contains(document.activeElement);
    const { offer, view, id } = this.#a;
    const audits = auditIDs(board.committed).reverse();
    this.#which.show({
      value: id === null ? NEW : `a${id}`,
      mixed: false,
      choices: [
        ...audits.map((a) => ({ value: `a${a}`, label: auditName(board.committed, a) })),
        { value: NEW, label: "A new audit…" },
      ],
    });
    this.#which.el.hidden = audits.length === 0 || offer !== null;
    this.#area.show({ value: this.#wish.area, mixed: false, choices: areaChoices(plan) });
    const ways = canWays.map(([value, label]) => ({ value, label }));
    this.#way.show({ value: this.#wish.by, mixed: false, choices: ways });
    this.#count.show({ value: String(this.#wish.count), mixed: false, choices: [] });
    this.#seek.disabled = this.#a.busy || this.#wish.area === "";
    this.#showOffer(offer);
    const shown = offer === null && id !== null && auditOf(plan, id) !== undefined;
    this.#whole.hidden = !shown;
    this.#delete.hidden = !shown;
    if (shown && id !== null) this.#showAudit(plan, id, view);
    this.#bench.tell(this.#refused || this.#a.trouble);
    if (within && focusLost()) this.#bench.title.focus();
  }

  #showAudit(plan: Plan, id: string, view: AuditView | null): void {
    this.#build(plan, id);
    this.#old.hidden = id !== OLD;
    for (const { of, control } of this.#fields)
      control.show({ value: of.get(plan, id), mixed: false, choices: of.choices?.(plan) ?? [] });
    const ran = Object.keys(auditOf(plan, id)?.runs ?? {}).length;
    setText(this.#madeNow, id === OLD ? "" : ran > 0 ? `${count(ran, "zone")} ran` : "no zone ran yet");
    this.#table.show(id, view?.cans ?? [], this.#a.stale);
    this.#answer.show(view, this.#a.stale);
  }

  #showOffer(offer: CansView | null): void {
    const had = !this.#offer.hidden;
    this.#offer.hidden = offer === null;
    this.#take.hidden = offer === null;
    this.#drop.hidden = offer === null;
    if (!offer) {
      if (had) this.#bench.release();
      return;
    }
    if (!had) {
      this.#bench.holdBoard();
      this.#a.picture();
      // From afar cans have no figures.
      if (this.d.view.scale < WORDS_FROM) this.d.looking.fitThings([`areas/${this.#wish.area}`]);
    }
    setText(this.#offerSays, offer.says);
    this.#offerRules.replaceChildren(...(offer.rules ?? []).map((r) => h("li", {}, r)));
    if (!had) this.#take.focus();
  }
}

/** The choice that begins an audit; the others are an “a” before their id, which may be empty. */
const NEW = "new";
