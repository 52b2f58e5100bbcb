// What is selected, with its numbers to read and to type.

import type { Design, HeadReading } from "../design";
import { atMostEvery, byID, h, setText } from "../dom";
import { type Context, type Field, sharedStatus } from "../fields";
import { fieldsOf, isPlaced, type Placed } from "../fields_others";
import { lengthText } from "../format";
import { distance, type Point } from "../geometry";
import { isFree } from "../layers";
import { whyLocked } from "../lockwords";
import { find, type Plan, parts, type Ref, ref } from "../model";
import { capital, count, nameOf, namesOf, plural, tieDifference } from "../names";
import { perimeterOf } from "../shape";
import type { Board } from "../state";
import { statusOf } from "../statuses";
import { isClosed, ringsOf } from "../things";
import { showArranging } from "./arranging";
import { Control } from "./control";
import { showImproving } from "./improving";
import { InGround } from "./inground";
import { sizeText } from "./objects";
import { removeThings } from "./removing";
import { insideFacts, otherRuns, pipeFacts, runningFacts } from "./waterfacts";

/** Things of one collection by their ids, or of several by their refs. */
interface Group {
  readonly collection: Placed | null;
  readonly ids: string[];
}

interface Made {
  field: Field;
  control: Control;
}

export class Selected {
  readonly #root = byID("selected");
  readonly #tab = byID("tab-selected");
  readonly #unfolded = new Set<string>(); // headings of fields, as they were left
  #signature = "";
  #made: Made[] = [];
  #title = h("h2");
  /** Why it cannot be moved or deleted. */
  readonly #locked = h("p", { class: "hint locked-why", hidden: true });
  #facts = h("dl", { class: "facts" });
  readonly #runs = h("dl", { class: "facts" });
  /** Of a pipe of the main, folded: it would push the fields out of sight. */
  readonly #others = h("details", { hidden: true }, h("summary", {}, "While another zone runs"), this.#runs);
  /** What streams do at a barrier, or what is in the way of a head's. */
  readonly #streams = h("div", { class: "streams", hidden: true });
  #more = h("p", { class: "hint", hidden: true });
  /** What can be sought for planting areas. */
  readonly #seek = h(
    "p",
    { class: "acts", hidden: true },
    h("button", { type: "button", onclick: () => showArranging() }, "Arrange heads…"),
    h("button", { type: "button", onclick: () => showImproving() }, "Improve…"),
  );

  readonly #inGround: InGround;

  constructor(
    readonly board: Board,
    byTape: () => void,
  ) {
    this.#inGround = new InGround(board, byTape);
    const soon = atMostEvery(100, () => this.#render());
    for (const topic of ["selection", "plan", "design", "catalog", "away", "layers"] as const)
      board.subscribe(topic, soon);
    this.#render();
  }

  /** The selected things of one collection, when all are of one. */
  #group(): Group | null {
    const refs = [...this.board.selection].map(parts);
    const [first] = refs;
    if (!first || !isPlaced(first[0])) return null;
    if (refs.every(([c]) => c === first[0])) {
      return { collection: first[0], ids: refs.map(([, id]) => id).sort() };
    }
    const stated = [...this.board.selection].filter((r) => statusOf(this.board.plan, r) !== null);
    return { collection: null, ids: stated.sort() };
  }

  #render(): void {
    const n = this.board.selection.size;
    setText(this.#tab, n === 0 ? "Selected" : `Selected ${n}`);
    const group = this.#group();
    const fields = group ? this.#fields(group.collection, group.ids) : [];
    const signature = `${group?.collection} ${fields.map((f) => f.key)} ${n > 1} ${n === 0} ${this.board.plan.show}`;
    if (signature !== this.#signature) this.#build(fields);
    this.#signature = signature;
    this.#show(group);
  }

  #fields(c: Placed | null, ids: readonly string[]): Field[] {
    if (c === null) return ids.length > 0 ? [sharedStatus] : [];
    const cx = this.#context();
    return fieldsOf[c].filter(
      (f) =>
        (ids.length === 1 || !(f.single || f.as === "long")) && ids.every((id) => f.has?.(cx, id) ?? true),
    );
  }

  #context(): Context {
    return { plan: this.board.plan, catalog: this.board.catalog };
  }

  #build(fields: Field[]): void {
    this.#made = fields.map((field) => {
      const hint = field.hint?.(this.board.plan) ?? "";
      const control = new Control(
        field.label,
        field.as,
        hint,
        (typed) => this.#take(field, typed),
        field.empty,
      );
      if (field.label === "Name" || field.label === "Text") control.el.classList.add("whole"); // words need the room
      return { field, control };
    });
    const short = this.#made.filter((m) => m.field.as !== "long" && !m.field.under).map((m) => m.control.el);
    const long = this.#made.filter((m) => m.field.as === "long").map((m) => m.control.el);
    const empty = this.board.selection.size === 0;
    this.#root.replaceChildren(
      this.#title,
      empty
        ? h(
            "p",
            { class: "hint" },
            "Click a thing on the board or a row of Objects to see and type its numbers.",
          )
        : "",
      this.#locked,
      this.#facts,
      this.#others,
      this.#streams,
      this.#seek,
      h("div", { class: "fields" }, ...short),
      ...this.#folded(),
      ...long,
      this.#inGround.el,
      this.#more,
      empty ? "" : h("p", { class: "acts" }, this.#deleteButton()),
    );
  }

  /** Fields that are seldom asked for, folded under their heading. */
  #folded(): HTMLElement[] {
    const headings = [...new Set(this.#made.flatMap(({ field }) => field.under ?? []))];
    return headings.map((t) => {
      const fields = this.#made.filter((m) => m.field.under === t).map((m) => m.control.el);
      const el = h(
        "details",
        { open: this.#unfolded.has(t) },
        h("summary", {}, t),
        h("div", { class: "fields" }, ...fields),
      );
      el.addEventListener("toggle", () => {
        if (el.open) this.#unfolded.add(t);
        else this.#unfolded.delete(t);
      });
      return el;
    });
  }

  #deleteButton(): HTMLElement {
    return h("button", { type: "button", class: "grave", onclick: () => this.#remove() }, "Delete");
  }

  #remove(): void {
    removeThings(this.board, [...this.board.selection]);
  }

  #take(field: Field, typed: string): string | null {
    const group = this.#group();
    if (!group) return null;
    const cx = { plan: this.board.committed, catalog: this.board.catalog };
    const next = field.set(cx, group.ids, typed);
    if (!next.ok) return next.sentence;
    const refs = group.ids.map((id) => (group.collection ? ref(group.collection, id) : (id as Ref)));
    const label = field.label.replace(/,.*/, "").toLowerCase();
    void this.board.commit(`Set ${label} of ${namesOf(this.board.committed, refs)}`, next.value);
    return null;
  }

  #show(group: Group | null): void {
    const refs = [...this.board.selection];
    setText(this.#title, this.#heading(group, refs));
    const { plan, layers } = this.board;
    const held = refs.length > 0 && refs.every((r) => !isFree(plan, r, layers));
    setText(this.#locked, held ? whyLocked(plan, refs, layers) : "");
    this.#locked.hidden = !held;
    this.#title.hidden = refs.length === 0;
    const cx = this.#context();
    for (const { field, control } of this.#made) {
      if (!group) continue;
      const values = group.ids.map((id) => field.get(cx, id));
      const mixed = values.some((v) => v !== values[0]);
      const choices = field.choices?.(cx, group.ids) ?? [];
      control.show({ value: values[0] ?? "", mixed, choices });
    }
    this.#showFacts(group);
    const kinds = group?.collection === null;
    setText(
      this.#more,
      kinds ? "These are things of different kinds: select one kind to type its numbers." : "",
    );
    this.#more.hidden = !kinds;
  }

  #heading(group: Group | null, refs: Ref[]): string {
    const [only] = refs;
    if (only && refs.length === 1) return capital(nameOf(this.board.plan, only));
    return group?.collection ? `${refs.length} ${plural(group.collection)}` : count(refs.length, "thing");
  }

  #showFacts(group: Group | null): void {
    const [id] = group?.ids ?? [];
    const facts: [string, string][] = [];
    const reckoned = this.board.away ? null : this.board.design;
    if (group?.collection && id !== undefined && group.ids.length === 1) {
      if (group.collection === "heads") facts.push(...headFacts(reckoned?.heads[id], this.board.away));
      if (group.collection === "pipes") {
        facts.push(...insideFacts(this.board.plan, id));
        facts.push(...pipeFacts(this.board.plan, reckoned?.pipes?.[id], this.board.away));
      }
      if (group.collection === "areas") facts.push(...areaFacts(this.board, id));
      if (group.collection === "ties") facts.push(...tieFacts(this.board.plan, id));
      if (["site", "barriers", "sleeves", "wires"].includes(group.collection))
        facts.push(...shapeFacts(this.board.plan, `${group.collection}/${id}`));
    }
    const planted = (id: string): boolean => find(this.board.plan, "areas", id)?.kind === "planting";
    this.#seek.hidden =
      this.board.earlier !== null || group?.collection !== "areas" || !group.ids.every(planted);
    const only = group?.ids.length === 1 ? group.collection : null;
    this.#inGround.show(only && id !== undefined ? ref(only, id) : null);
    this.#showStreams(streamsOf(reckoned, only ?? "", id ?? ""));
    const runs = only === "pipes" ? otherRuns(this.board.plan, reckoned?.pipes?.[id ?? ""]) : [];
    this.#others.hidden = runs.length === 0;
    fillFacts(this.#runs, runs);
    fillFacts(this.#facts, facts);
  }

  #showStreams({ title, lines }: { title: string; lines: readonly string[] }): void {
    this.#streams.hidden = lines.length === 0;
    const now = Array.from(this.#streams.querySelectorAll("li"), (e) => e.textContent);
    if (now.join("\n") === lines.join("\n")) return;
    this.#streams.replaceChildren(h("h3", {}, title), h("ul", {}, ...lines.map((l) => h("li", {}, l))));
  }
}

/** Streams at the selected barrier, or what is in the way of the selected head's. */
function streamsOf(d: Design | null, collection: string, id: string): { title: string; lines: string[] } {
  if (collection === "barriers")
    return { title: "Streams that come to it", lines: (d?.barriers?.[id] ?? []).map((s) => s.text) };
  return {
    title: "In the way of its stream",
    lines: collection === "heads" ? (d?.heads[id]?.stops ?? []) : [],
  };
}

function fillFacts(list: HTMLElement, facts: readonly [string, string][]): void {
  const old = Array.from(list.children, (e) => e.textContent);
  if (old.join("\n") === facts.flat().join("\n")) return;
  list.replaceChildren(...facts.flatMap(([t, d]) => [h("dt", {}, t), h("dd", {}, d)]));
}

function headFacts(r: HeadReading | undefined, away: boolean): [string, string][] {
  if (away) return [["Flow and rate", "not computed"]];
  if (!r) return [];
  return [
    ["Flow", r.flow],
    ["Throw", r.throw],
    ["Its own rate", r.rate],
    ["Pressure", r.pressure],
    ["Nearest head", r.nearest],
    ...runningFacts(r),
  ].filter((f): f is [string, string] => Boolean(f[1]));
}

function areaFacts(board: Board, id: string): [string, string][] {
  if (!find(board.plan, "areas", id)) return [];
  const facts: [string, string][] = [["Drawn", sizeText(board.plan, `areas/${id}`)]];
  if (board.away) facts.push(["Evenness", "not computed"]);
  const reading = board.away ? undefined : board.design?.areas.find((a) => a.id === id);
  if (reading?.evenness) facts.push(["Evenness", reading.evenness]);
  if (reading?.rate) facts.push(["Rate", reading.rate]);
  return facts;
}

/** A tie as drawn, beside what was measured. */
function tieFacts(p: Plan, id: string): [string, string][] {
  const t = find(p, "ties", id);
  if (!t) return [];
  const [from, to] = [t.from, t.to].map((s): Point => [s.x_ft, s.y_ft]) as [Point, Point];
  const by = tieDifference(from, to, t.distance_ft, p.show);
  return [
    ["Drawn", lengthText(distance(from, to), p.show)],
    ["Difference", by || "none"],
  ];
}

/** The size of a shape as drawn, and how far it is around. */
function shapeFacts(p: Plan, r: Ref): [string, string][] {
  const facts: [string, string][] = [["Drawn", sizeText(p, r)]];
  const [outer] = ringsOf(p, r);
  if (outer && isClosed(parts(r)[0])) facts.push(["Around", lengthText(perimeterOf(outer), p.show)]);
  return facts;
}
