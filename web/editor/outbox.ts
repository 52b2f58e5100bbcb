// The steps the server has not acknowledged yet, sent one at a time and in
// order, and tried again for as long as the server is away.

import type { Committed, Failure, Outcome } from "./api";
import type { Patch } from "./model";

/** One step on its way to the server. */
export interface Step {
  label: string;
  patch: Patch;
  done: (v: Verdict) => void;
}

/** What became of a step. */
export type Verdict = { saved: true } | { saved: false; failure: Failure };

/** What the outbox asks of its owner. */
export interface Owner {
  /** Sends one step; `again` when an earlier try got no answer. */
  send(step: Step, again: boolean): Promise<Outcome<Committed>>;
  stored(step: Step, answer: Committed): void;
  /** The server will not take this step, whatever the network does. */
  refused(step: Step, why: Failure): void;
  /** The plan moved on without us: the outbox stops until told what to do. */
  stale(why: Failure): void;
  changed(): void;
}

export type Wait = (ms: number) => Promise<void>;

/** Pauses between tries, in ms; the last repeats for ever. */
const pauses = [300, 600, 1200, 2500, 5000];

export class Outbox {
  #steps: Step[] = [];
  #busy = false;
  #tries = 0;
  #stopped = false;
  #hurry: (() => void) | null = null;
  #idle: (() => void)[] = [];
  trouble: Failure | null = null;

  constructor(
    readonly owner: Owner,
    readonly wait: Wait = (ms) => new Promise((r) => setTimeout(r, ms)),
  ) {}

  /** Steps not acknowledged yet, oldest first; the first may be under way. */
  get steps(): readonly Step[] {
    return this.#steps;
  }

  get stopped(): boolean {
    return this.#stopped;
  }

  add(step: Step): void {
    this.#steps.push(step);
    this.owner.changed();
    void this.#run();
  }

  /** Takes the newest step back if it has never been sent. */
  takeBack(): Step | undefined {
    const first = this.#busy ? 1 : 0;
    if (this.#steps.length <= first) return undefined;
    const step = this.#steps.pop();
    this.owner.changed();
    this.#settle();
    return step;
  }

  /** Forgets everything unsent and starts afresh. */
  clear(): void {
    this.#steps = [];
    this.#stopped = false;
    this.trouble = null;
    this.#tries = 0;
    this.owner.changed();
    this.#settle();
  }

  /** Tries at once instead of waiting out the pause. */
  kick(): void {
    this.#hurry?.();
  }

  /** Resolves when nothing is left to send, or when the outbox has stopped. */
  idle(): Promise<void> {
    if (this.#steps.length === 0 || this.#stopped) return Promise.resolve();
    return new Promise((r) => this.#idle.push(r));
  }

  async #run(): Promise<void> {
    if (this.#busy) return;
    this.#busy = true;
    while (!this.#stopped && this.#steps[0]) {
      const step = this.#steps[0];
      const answer = await this.owner.send(step, this.#tries > 0);
      if (this.#steps[0] !== step) continue; // cleared while under way
      if (answer.ok) this.#stored(step, answer.value);
      else await this.#failed(step, answer);
    }
    this.#busy = false;
    this.#settle();
  }

  #stored(step: Step, answer: Committed): void {
    this.#steps.shift();
    this.#tries = 0;
    this.trouble = null;
    this.owner.stored(step, answer);
    this.owner.changed();
    step.done({ saved: true });
  }

  async #failed(step: Step, why: Failure): Promise<void> {
    if (why.status === 412 || why.status === 404) {
      this.#stopped = true;
      this.trouble = why;
      this.owner.changed();
      this.owner.stale(why);
      return;
    }
    if (why.status >= 400 && why.status < 500 && why.status !== 408 && why.status !== 429) {
      this.#steps.shift();
      this.#tries = 0;
      this.owner.refused(step, why);
      this.owner.changed();
      step.done({ saved: false, failure: why });
      return;
    }
    this.trouble = why;
    this.owner.changed();
    const pause = pauses[Math.min(this.#tries++, pauses.length - 1)] as number;
    await Promise.race([this.wait(pause), new Promise<void>((r) => (this.#hurry = r))]);
    this.#hurry = null;
  }

  #settle(): void {
    if (this.#steps.length > 0 && !this.#stopped) return;
    for (const r of this.#idle.splice(0)) r();
  }
}
