// The fields of the watering bench: made for the units of the plan, kept in step with
// it, and taken as one step each.

import type { Field } from "../fields";
import type { Plan } from "../model";
import type { Board } from "../state";
import type { SupplyField } from "../supply";
import { Control } from "./control";

/** What stands faintly in an empty field: the figure that is taken. */
export const usually = (figure: string | undefined): string | undefined =>
  figure === undefined ? undefined : `${figure}, the usual`;

export class WaterControls {
  #shows: ((p: Plan) => void)[] = [];
  /** What an empty field stands for, by its member. */
  #usual: Readonly<Record<string, string>> = {};

  constructor(readonly board: Board) {}

  /** Forgets the fields that were made: others take their place. */
  clear(): void {
    this.#shows = [];
  }

  /** Brings all fields in step with the plan. */
  show(p: Plan, usual?: Readonly<Record<string, string>>): void {
    if (usual) this.#usual = usual;
    for (const fn of this.#shows) fn(p);
  }

  /** Calls fn whenever the fields are brought in step. */
  whenShown(fn: (p: Plan) => void): void {
    this.#shows.push(fn);
  }

  commit(what: string, next: Plan): null {
    void this.board.commit(`Watering: ${what}`, next);
    return null;
  }

  control(
    label: string,
    as: Control["as"],
    hint: string,
    take: (typed: string) => string | null,
    empty = "",
  ): Control {
    const c = new Control(label, as, hint, take, empty);
    if (as === "choice" || as === "yes") c.el.classList.add("whole");
    return c;
  }

  /** A field of what the program is made for. */
  field(f: SupplyField): HTMLElement {
    const { board } = this;
    const take = (typed: string): string | null => {
      const next = f.set(board.committed, typed, board.catalog);
      return next.ok ? this.commit(f.label.toLowerCase(), next.value) : next.sentence;
    };
    const c = this.control(f.label, f.as, f.hint?.(board.plan) ?? "", take, f.empty?.(board.plan) ?? "");
    this.whenShown((p) => {
      c.empty = usually(this.#usual[f.key]) ?? c.empty;
      c.show({ value: f.get(p), mixed: false, choices: f.choices?.(p, board.catalog) ?? [] });
    });
    return c.el;
  }

  /** A field of the controller. */
  holds(f: Field): HTMLElement {
    const { board } = this;
    const cx = (plan: Plan) => ({ plan, catalog: board.catalog });
    const take = (typed: string): string | null => {
      const next = f.set(cx(board.committed), ["at"], typed);
      if (!next.ok) return next.sentence;
      void board.commit(`Set ${f.label.toLowerCase()} of the controller`, next.value);
      return null;
    };
    const c = this.control(f.label, f.as, f.hint?.(board.plan) ?? "", take, f.empty);
    this.whenShown((p) => {
      c.empty = usually(this.#usual[f.key]) ?? c.empty;
      c.show({ value: f.get(cx(p), "at"), mixed: false, choices: f.choices?.(cx(p), ["at"]) ?? [] });
    });
    return c.el;
  }
}
