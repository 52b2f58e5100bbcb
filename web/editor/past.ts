// The past of a plan, as the server has it: its steps, the states that were
// kept, and the way back to any of them.

import { ask, type HistoryStep, type Outcome, onRev, planURL, type Stored } from "./api";
import type { Plan } from "./model";

/** One step, with what it changed in words: "3 heads, 1 area". */
export interface PastStep extends HistoryStep {
  number: number;
  what: string;
}

/** A state kept whole: one the user named, or one the program kept unasked. */
export interface Point {
  id: number;
  number: number;
  kind: "named" | "hour" | "dropped" | "before";
  name: string;
  at: string;
}

export interface Past {
  /** The newest steps, or those asked for, oldest first. */
  steps: PastStep[];
  /** Whether there are older ones. */
  older: boolean;
  points: Point[];
}

/** An earlier document. */
export interface State {
  label: string;
  at: string;
  doc: Plan;
}

/** Which earlier state: that after a step, or one that was kept. */
export type Which = { step: number } | { point: number };

const path = (w: Which): string => ("step" in w ? `steps/${w.step}` : `points/${w.point}`);

export const past = {
  read: (id: string, before?: number): Promise<Outcome<Past>> =>
    ask<Past>("GET", `${planURL(id)}/history${before === undefined ? "" : `?before=${before}`}`),

  look: (id: string, w: Which): Promise<Outcome<State>> => ask<State>("GET", `${planURL(id)}/${path(w)}`),

  back: (id: string, rev: number, w: Which): Promise<Outcome<Stored>> =>
    ask<Stored>("POST", `${planURL(id)}/back`, { headers: onRev(rev), body: JSON.stringify(w) }),

  keep: (id: string, rev: number, step: number, name: string): Promise<Outcome<Point>> =>
    ask<Point>("POST", `${planURL(id)}/points`, {
      headers: onRev(rev),
      body: JSON.stringify({ step, name }),
    }),

  forget: (id: string, rev: number, point: number): Promise<Outcome<object>> =>
    ask<object>("DELETE", `${planURL(id)}/points/${point}`, { headers: onRev(rev) }),
};
