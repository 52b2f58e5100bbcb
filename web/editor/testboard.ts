// A board of a made-up plan, for the tests of what is sought and offered.

import type { Stage } from "./asking";
import type { Notice } from "./desk";
import { LongWork } from "./longwork";
import type { Plan } from "./model";
import type { Saved } from "./state";
import { yard } from "./testplan";

export function board(plan: Plan = yard()) {
  const notices: (Notice | null)[] = [];
  const said: string[] = [];
  const steps: { label: string; plan: Plan }[] = [];
  const listeners: (() => void)[] = [];
  let draft: Plan | null = null;
  const made = {
    id: "x",
    rev: 4,
    away: false,
    saved: { state: "yes", at: null } as Saved,
    committed: plan,
    longWork: new LongWork(() => 0),
    notices,
    said,
    steps,
    get plan(): Plan {
      return draft ?? made.committed;
    },
    get drafting(): boolean {
      return draft !== null;
    },
    flush: () => {},
    subscribe: (_: "saved", fn: () => void) => {
      listeners.push(fn);
      return () => {};
    },
    show: (n: Notice | null) => void notices.push(n),
    announce: (t: string) => void said.push(t),
    preview: (next: Plan) => {
      draft = next;
    },
    cancel: () => {
      draft = null;
    },
    commit: async (label: string, next: Plan) => {
      draft = null;
      made.committed = next;
      made.rev++;
      steps.push({ label, plan: next });
    },
    store: () => {
      made.saved = { state: "yes", at: null };
      for (const fn of listeners) fn();
    },
  };
  return made satisfies Stage;
}
