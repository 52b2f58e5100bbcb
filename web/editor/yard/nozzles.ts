// Setting nozzles head by head in walking order, and the census of an old system on the
// same walk: set as drawn, changed, or found at fault.

import { button, h } from "../dom";
import { find, ids, type Plan } from "../model";
import { headAt } from "../pattern";
import type { HeadFault, HeadState } from "../proof";
import type { ProofHead } from "../proofview";
import { goTo } from "./goto";
import { headEdit } from "./headedit";
import { headDots, picture } from "./map";
import { measures } from "./measures";
import { photoButton } from "./photobutton";
import { setState, stateOf, toggleFault } from "./records";
import { type Part as SectionPart, stepIn } from "./sections";
import type { Yard } from "./session";
import {
  choose,
  column,
  figure,
  line,
  type Option,
  type Part,
  remade,
  type Screen,
  several,
  words,
} from "./ui";

/** Faults as they are pressed; the words of the record are internal/plan's. */
export const faults: readonly (Option & { readonly value: HeadFault })[] = [
  { value: "tilted", label: "Tilted" },
  { value: "sunk", label: "Sunk" },
  { value: "blocked", label: "Blocked" },
  { value: "worn", label: "Worn" },
  { value: "leaking", label: "Leaking" },
  { value: "stuck", label: "Stuck" },
  { value: "wrong_nozzle", label: "Wrong nozzle" },
  { value: "off_target", label: "Off target" },
  { value: "hidden", label: "Hidden by plants" },
];

/** The directions a head may lean, on the plan: up is the plan's y. */
const ways: readonly Option[] = [
  { value: "90", label: "↑", name: "Up" },
  { value: "45", label: "↗", name: "Up and right" },
  { value: "0", label: "→", name: "Right" },
  { value: "315", label: "↘", name: "Down and right" },
  { value: "270", label: "↓", name: "Down" },
  { value: "225", label: "↙", name: "Down and left" },
  { value: "180", label: "←", name: "Left" },
  { value: "135", label: "↖", name: "Up and left" },
];

/** Heads that stand, in walking order, or by tag while the server has not told it. */
export function headsOf(yard: Yard): string[] {
  const told = (yard.view?.heads ?? []).map((x) => x.id).filter((id) => find(yard.plan, "heads", id));
  if (told.length > 0) return told;
  return ids(yard.plan, "heads").filter((id) => find(yard.plan, "heads", id)?.status !== "remove");
}

export const headName = (p: Plan, id: string): string => {
  const x = find(p, "heads", id);
  return x?.tag ? `Head ${x.tag}` : x ? "A head without a tag" : "A head no longer here";
};

/** It was set, or looked at and found at fault. */
const isDone = (s: HeadState): boolean => s.set_on !== undefined || s.seen_on !== undefined;

export class Nozzles implements SectionPart {
  readonly id = "heads";
  readonly title = "Nozzles";

  constructor(readonly yard: Yard) {}

  left(): string {
    const all = headsOf(this.yard);
    if (all.length === 0) return "";
    const left = all.filter((id) => !isDone(stateOf(this.yard.plan, id))).length;
    return left === 0 ? "done" : `${left} left`;
  }

  at(item: string): string {
    if (this.yard.waiting) return item;
    const all = headsOf(this.yard);
    const [id = "", sub] = item.split("/");
    if (all.includes(id)) return sub === "change" ? item : id;
    return all.find((x) => !isDone(stateOf(this.yard.plan, x))) ?? all[0] ?? "";
  }

  made(item: string): string {
    return item === "" ? String(this.yard.view === null) : "";
  }

  open(item: string): Screen {
    const { yard } = this;
    const [id = "", sub] = item.split("/");
    if (id === "")
      return {
        ...line("yard-lead", () =>
          yard.waiting ? "The walk is being worked out." : "There are no heads on this plan yet.",
        ),
        acts: () => ({}),
      };
    const go = (to: string | null): void => {
      if (to !== null) yard.go({ section: "heads", item: to });
    };
    const inner = sub === "change" ? headEdit(yard, id) : this.#head(id);
    const list = goTo(
      "All heads",
      () => this.#rows(),
      () => id,
      go,
    );
    const part = column("yard-one", inner, list);
    return {
      ...part,
      acts: () => {
        const all = headsOf(yard);
        const next = stepIn(all, id, 1);
        const back = stepIn(all, id, -1);
        if (sub === "change") return { main: { label: "Back to the head", run: () => go(id) } };
        const set = (): void => {
          yard.step(
            `Set ${headName(yard.plan, id).toLowerCase()}`,
            setState(yard.plan, id, { set_on: yard.today }),
          );
          go(next);
        };
        return {
          main: stateOf(yard.plan, id).set_on ? null : { label: "Set as drawn", run: set },
          back: back === null ? null : { label: "Back", run: () => go(back) },
          next: next === null ? null : { label: "Next", run: () => go(next) },
        };
      },
    };
  }

  #rows() {
    const { yard } = this;
    return headsOf(yard).map((id) => {
      const s = stateOf(yard.plan, id);
      const names = (s.faults ?? []).map((f) => faults.find((x) => x.value === f)?.label ?? f);
      return {
        item: id,
        title: headName(yard.plan, id),
        says: names.join(", ") || (s.set_on ? `set ${s.set_on}` : ""),
        done: isDone(s),
      };
    });
  }

  #head(id: string): Part {
    const { yard } = this;
    const view = (): ProofHead | undefined => (yard.view?.heads ?? []).find((x) => x.id === id);
    const name = () => headName(yard.plan, id);
    const position = (): string => {
      const all = headsOf(yard);
      return `${all.indexOf(id) + 1} of ${all.length}`;
    };
    return column(
      "yard-head-one",
      line("yard-says", () => `${position()}${view()?.zone ? ` · ${view()?.zone}` : ""}`),
      line("yard-title", name, "h2"),
      column(
        "yard-beside",
        remade("yard-facts", view, () => this.#facts(view())),
        remade(
          "yard-picture",
          () => [yard.plan.heads?.[id], yard.plan.areas],
          () => {
            const x = find(yard.plan, "heads", id);
            if (!x) return [];
            const svg = picture(yard.plan, {
              title: `Where ${name().toLowerCase()} stands among the others`,
              dots: headDots(yard.plan, id, (other) => isDone(stateOf(yard.plan, other))),
              head: id,
              around: [headAt(x)],
              margin: 28,
            });
            return svg ? [svg as unknown as Node] : [];
          },
        ),
      ),
      remade(
        "yard-acts",
        () => stateOf(yard.plan, id).set_on,
        () => {
          const set = stateOf(yard.plan, id).set_on;
          return [
            button("It is otherwise: change the plan…", "yard-big", () =>
              yard.go({ section: "heads", item: `${id}/change` }),
            ),
            ...(set
              ? [
                  h("p", { class: "yard-was-done" }, `Set on ${set}.`),
                  button("Not set yet", "yard-big", () =>
                    yard.step(
                      `Unset ${name().toLowerCase()}`,
                      setState(yard.plan, id, { set_on: undefined }),
                    ),
                  ),
                ]
              : []),
          ];
        },
      ),
      this.#faults(id),
      photoButton(yard, `heads/${id}`, name),
    );
  }

  #facts(v: ProofHead | undefined): Node[] {
    if (!v) return [];
    const pairs: [string, string][] = [
      ["Where", v.where],
      ["Nozzle", v.nozzle],
      ["Arc", v.arc],
      ["Edges", v.edge],
      ["Throw", v.throw],
      ["Turned down", v.turn],
    ];
    return [
      h("dl", {}, ...pairs.filter(([, t]) => t !== "").flatMap(([k, t]) => [h("dt", {}, k), h("dd", {}, t)])),
    ];
  }

  #faults(id: string): Part {
    const { yard } = this;
    const state = () => stateOf(yard.plan, id);
    const name = () => headName(yard.plan, id).toLowerCase();
    const has = (f: HeadFault): boolean => (state().faults ?? []).includes(f);
    const set = (what: string, change: Partial<HeadState>): void =>
      yard.step(`${what} of ${name()}`, setState(yard.plan, id, change));
    const tilt = column(
      "yard-fields",
      figure(yard, measures.tilt, {
        key: `head/${id}/tilt`,
        label: "It leans by",
        what: `tilt of ${name()}`,
        get: () => state().tilt_deg,
        set: (tilt_deg) => set("Tilt", { tilt_deg }),
      }),
      choose(
        "Its top leans toward, on the picture",
        ways,
        () => String(state().tilt_toward_deg ?? ""),
        (v) => set("Tilt", { tilt_toward_deg: Number(v) }),
      ),
    );
    const wrong = words(yard, {
      key: `head/${id}/nozzle`,
      label: "The nozzle that is in it",
      what: `nozzle found in ${name()}`,
      get: () => state().nozzle,
      set: (nozzle) => set("Nozzle", { nozzle }),
    });
    const note = words(
      yard,
      {
        key: `head/${id}/note`,
        label: "Note",
        what: `note on ${name()}`,
        get: () => state().note,
        set: (text) => set("Note", { note: text }),
      },
      true,
    );
    const chips = several(
      "What is wrong with it",
      faults,
      () => state().faults ?? [],
      (v) => {
        const label = faults.find((f) => f.value === v)?.label ?? v;
        const now = has(v as HeadFault);
        yard.step(
          `${now ? "No longer" : "Note"} ${label.toLowerCase()}: ${name()}`,
          toggleFault(yard.plan, id, v as HeadFault, yard.today),
        );
      },
    );
    const all = column("yard-faults", chips, tilt, wrong, note);
    const update = (): void => {
      all.update();
      tilt.el.hidden = !has("tilted");
      wrong.el.hidden = !has("wrong_nozzle");
    };
    update();
    return { el: all.el, update };
  }
}
