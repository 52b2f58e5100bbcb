// Steps of the yard reach the server also when somebody else changed the plan meanwhile:
// a log is added to, so what is entered here is made on the newest revision, unless the
// very members it changes were changed by the other as well.

import type { Api, Committed, Outcome, Stored } from "../api";
import { apply, diff, isEmpty, type Json, type Patch, same } from "../merge";
import type { Plan } from "../model";

/** How often a step is made again because yet another came between (chosen). */
const TRIES = 5;

const isObject = (v: unknown): v is Record<string, unknown> =>
  typeof v === "object" && v !== null && !Array.isArray(v);

/**
 * Whether what a patch changes was changed in the document by somebody else as well:
 * a member it writes or takes away is not as it was before, or the thing it lies in is gone.
 */
export function clashes(before: unknown, now: unknown, patch: Json | Patch): boolean {
  if (!isObject(patch)) return !same(before, now) && !same(now, patch === null ? undefined : patch);
  if (isObject(before) && !isObject(now)) return true;
  return Object.entries(patch).some(([k, v]) =>
    clashes(isObject(before) ? before[k] : undefined, isObject(now) ? now[k] : undefined, v as Json),
  );
}

/** The server as the board asks it, with steps made again where that loses nothing. */
export class Keeping implements Api {
  readonly load: Api["load"];
  readonly create: Api["create"];
  /** The plan was changed by somebody else, which this page does not show yet. */
  behind = false;

  /** doc: the stored plan of the revision the page begins with. */
  constructor(
    readonly server: Api,
    private doc: Plan,
  ) {
    this.load = (id) => this.#noted(server.load(id));
    this.create = server.create;
  }

  undo(id: string, rev: number): ReturnType<Api["undo"]> {
    return this.#noted(this.server.undo(id, rev));
  }

  redo(id: string, rev: number): ReturnType<Api["redo"]> {
    return this.#noted(this.server.redo(id, rev));
  }

  async commit(id: string, rev: number, patch: Patch, label: string): Promise<Outcome<Committed>> {
    let answer = await this.server.commit(id, rev, patch, label);
    for (let i = 0; i < TRIES && !answer.ok && answer.status === 412; i++) {
      const now = await this.server.load(id);
      if (!now.ok) return now.status === 0 ? now : answer;
      const stored = now.value;
      // The answer of an earlier try was lost: what is sent is there already.
      if (isEmpty(diff(stored.doc, apply(stored.doc, patch)))) {
        if (stored.undo !== label) this.behind = true;
        this.doc = stored.doc;
        return { ok: true, value: { rev: stored.rev, undo: stored.undo, redo: stored.redo } };
      }
      if (clashes(this.doc, stored.doc, patch)) return answer;
      this.behind = true;
      answer = await this.server.commit(id, stored.rev, patch, label);
      if (answer.ok) this.doc = stored.doc;
    }
    if (answer.ok) this.doc = apply(this.doc, patch);
    return answer;
  }

  async #noted<T extends Stored>(asked: Promise<Outcome<T>>): Promise<Outcome<T>> {
    const answer = await asked;
    if (answer.ok) {
      this.doc = answer.value.doc;
      this.behind = false;
    }
    return answer;
  }
}
