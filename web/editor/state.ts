// The one open plan: the document, what is selected, what follows from it, and
// what has not been stored yet. Everything on the page reads it and is told by
// topic when to look again.

import type { Api, Catalog, Failure, Outcome, Stepped, Stored } from "./api";
import type { Design } from "./design";
import { Desk } from "./desk";
import type { Journal, Kept } from "./journal";
import type { LiveAs } from "./live";
import { apply, clone, diff, has, isEmpty, isRow, type Patch, type Plan, type Ref, touched } from "./model";
import { Outbox, type Step, type Verdict, type Wait } from "./outbox";
import { withPipesFollowing, withPipesJoined } from "./pipewhole";
import { withTiesFollowing } from "./tiefollow";
import { withWiresFollowing } from "./wirefollow";

/** Whether everything done is on disk. */
export type Saved =
  | { state: "yes"; at: Date | null } // null: nothing has been changed since the page opened
  | { state: "saving"; count: number }
  // full: the disk of the server is; keeping: the browser is about to keep them, and does not yet
  | { state: "no"; count: number; why: string; full?: boolean; keeping?: boolean }
  | { state: "conflict"; count: number };

/** The live channel, as the board uses it. */
export interface Channel {
  /** Shows the stored document of rev with a patch on it; newest wins. */
  show(rev: number, patch: Patch): void;
  /** Asks for the map as the zones run, or as drawn again. */
  showAs?(as: LiveAs): void;
}

export interface Opening {
  id: string;
  rev: number;
  doc: Plan;
  undo: string;
  redo: string;
  api: Api;
  wait?: Wait;
  now?: () => Date;
  onAnnounce?: (text: string) => void;
  journal?: Journal;
}

/** An earlier state of the plan, to be looked at and not changed. */
export interface Earlier {
  doc: Plan;
  /** What it is, within a sentence: "after “Move head 1-2”, 3 Dec 2026, 14:32". */
  words: string;
}

const notWhileLooking =
  "You look at an earlier state, which cannot be changed. Return to the plan, or go back to this state, first.";

const lookedBack: Failure = { ok: false, status: 0, error: notWhileLooking, problems: [] };

/** The status of an answer that says the disk is full. */
const noRoom = 507;

/** The most the browser may take to keep a step before it is sent all the same, in ms. */
const journalPatience = 1000;

/** How long a nudge waits for the next one before both become one step, in ms. */
const nudgePause = 500;

interface Held {
  key: string;
  label: string;
  before: Plan;
  timer: ReturnType<typeof setTimeout>;
}

export class Board extends Desk {
  readonly id: string;
  readonly api: Api;
  channel: Channel | null = null;
  catalog: Catalog = { nozzles: [], bodies: [] };
  design: Design | null = null;
  conflict: Failure | null = null;
  undoLabel: string;
  redoLabel: string;
  rev: number;

  #base: Plan; // the stored document of rev
  #plan: Plan; // with everything done since
  #draft: Plan | null = null;
  #outbox: Outbox;
  #held: Held | null = null;
  #backed: Step[] = []; // steps taken back before they were ever sent
  #earlier: Earlier | null = null;
  #muted = false; // a change was refused: nothing is said of it as if it were made
  #savedAt: Date | null = null;
  #pushed: number;
  #queue: Promise<void> = Promise.resolve();
  #turns = 0; // undone, redone or gone back to, and not yet answered
  readonly #now: () => Date;
  readonly #journal: Journal | undefined;
  #journaled: Promise<void> | null = null; // what is unsent is kept in the browser
  #kept: ReadonlySet<unknown> = new Set(); // the steps it keeps for certain

  constructor(o: Opening) {
    super(o.onAnnounce ?? (() => {}));
    this.id = o.id;
    this.api = o.api;
    this.rev = o.rev;
    this.#pushed = o.rev;
    this.#base = o.doc;
    this.#plan = o.doc;
    this.undoLabel = o.undo;
    this.redoLabel = o.redo;
    this.#now = o.now ?? (() => new Date());
    this.#journal = o.journal;
    this.#outbox = new Outbox(this.#owner(), o.wait);
  }

  /** What is on the board now: an earlier state, the gesture's draft, or the document. Never change it in place. */
  get plan(): Plan {
    return this.#earlier?.doc ?? this.#draft ?? this.#plan;
  }

  /** The earlier state that is looked at; null while the plan itself is on the board. */
  get earlier(): Earlier | null {
    return this.#earlier;
  }

  /** Puts an earlier state on the board, to be looked at only; null brings the plan back. */
  lookBack(earlier: Earlier | null): void {
    this.cancel();
    this.flush();
    this.#earlier = earlier;
    this.pruneSelection();
    this.emit("earlier");
    this.emit("plan");
    this.emit("steps");
    this.#showLive();
  }

  /**
   * Makes the step that brings the plan to an earlier state, once everything
   * done here is stored, and shows the plan after it. False: it was not made.
   */
  async goBack(make: (rev: number) => Promise<Outcome<Stored>>): Promise<boolean> {
    let made = false;
    await this.#inTurn(async () => {
      this.cancel();
      this.flush();
      await this.#outbox.idle();
      if (this.conflict) return;
      const answer = await make(this.rev);
      if (answer.ok) {
        made = true;
        this.#savedAt = this.#now();
        this.#earlier = null;
        this.#backed = []; // what was taken back was of another state
        this.emit("earlier");
        this.#take(answer.value);
      } else if (answer.status === 412)
        await this.reload(
          "This plan was changed in another tab. Look at its history again before you go back.",
        );
      else this.show({ kind: "problem", sentence: answer.error });
    });
    return made;
  }

  /** The document without the gesture in progress, unsent steps included. */
  get committed(): Plan {
    return this.#plan;
  }

  get drafting(): boolean {
    return this.#draft !== null;
  }

  get saved(): Saved {
    const count = this.#outbox.steps.length + (this.#held ? 1 : 0);
    if (this.conflict) return { state: "conflict", count };
    if (count === 0) return { state: "yes", at: this.#savedAt };
    const trouble = this.#outbox.trouble;
    if (!trouble) return { state: "saving", count };
    return {
      state: "no",
      count,
      why: trouble.error,
      full: trouble.status === noRoom,
      keeping: this.#keeping,
    };
  }

  get canRedo(): boolean {
    return this.redoLabel !== "" || this.#backed.length > 0;
  }

  /** Shows a gesture in progress: nothing is stored, the map follows. */
  preview(next: Plan): void {
    if (this.#earlier) return;
    const whole = withWiresFollowing(this.#plan, withPipesFollowing(this.#plan, next));
    this.#draft = withTiesFollowing(this.#plan, whole);
    this.emit("plan");
    this.#showLive();
  }

  /** Drops the gesture in progress. */
  cancel(): void {
    if (!this.#draft) return;
    this.#draft = null;
    this.pruneSelection();
    this.emit("plan");
    this.#showLive();
    queueMicrotask(() => this.#follow()); // what another tab did meanwhile had to wait
  }

  /**
   * Makes one step of the difference between the document and the changed one,
   * with ties following their corners and pipes what they join: applied at once and sent to the server.
   * Steps given the same merge key in quick succession (nudges) become one.
   */
  commit(label: string, change: Plan, merge?: string): Promise<Verdict> {
    if (this.shut()) return Promise.resolve({ saved: false, failure: lookedBack });
    const whole = withPipesJoined(this.#plan, withPipesFollowing(this.#plan, change));
    const next = withTiesFollowing(this.#plan, withWiresFollowing(this.#plan, whole));
    this.#draft = null;
    if (isEmpty(diff(this.#plan, next))) {
      this.emit("plan");
      this.#showLive();
      return Promise.resolve({ saved: true });
    }
    if (this.#held && this.#held.key !== merge) this.flush();
    const before = this.#plan;
    this.#plan = next;
    this.#backed = [];
    this.redoLabel = "";
    this.undoLabel = label;
    const verdict = merge ? this.#hold(merge, label, before) : this.#send(label, diff(before, next));
    this.pruneSelection();
    this.emit("plan");
    this.emit("steps");
    this.#showLive();
    return verdict;
  }

  /** Says that nothing can be changed while an earlier state is looked at; false while none is. */
  shut(): boolean {
    if (!this.#earlier) return false;
    this.show({ kind: "hint", sentence: notWhileLooking });
    // Whoever asked for the change goes on to say that it is done.
    this.#muted = true;
    queueMicrotask(() => {
      this.#muted = false;
    });
    return true;
  }

  override announce(text: string): void {
    if (!this.#muted) super.announce(text);
  }

  #hold(key: string, label: string, before: Plan): Promise<Verdict> {
    if (this.#held) clearTimeout(this.#held.timer);
    const timer = setTimeout(() => this.flush(), nudgePause);
    this.#held = { key, label, before: this.#held?.before ?? before, timer };
    this.#keep();
    this.emit("saved");
    return Promise.resolve({ saved: true });
  }

  /** Sends what waits for a possible next nudge, and tries again at once if the server was away. */
  flush(): void {
    const held = this.#held;
    this.#held = null;
    if (held) {
      clearTimeout(held.timer);
      const patch = diff(held.before, this.#plan);
      if (!isEmpty(patch)) void this.#send(held.label, patch);
      else {
        this.#keep();
        this.emit("saved");
      }
    }
    this.#outbox.kick();
  }

  #send(label: string, patch: Patch): Promise<Verdict> {
    return new Promise((done) => this.#outbox.add({ label, patch, done }));
  }

  undo(): Promise<void> {
    return this.#inTurn(() => this.#undoOne());
  }

  redo(): Promise<void> {
    return this.#inTurn(() => this.#redoOne());
  }

  // Undo and redo wait for each other, so that three quick presses are three steps.
  #inTurn(job: () => Promise<void>): Promise<void> {
    this.#turns++;
    this.#queue = this.#queue.then(job).finally(() => {
      this.#turns--;
    });
    return this.#queue;
  }

  /** How many presses of undo and redo, and ways back, wait for their answer. */
  get turns(): number {
    return this.#turns;
  }

  async #undoOne(): Promise<void> {
    if (this.shut()) return;
    this.cancel();
    this.flush();
    const back = this.#outbox.takeBack();
    if (back) {
      back.done({ saved: true });
      this.#backed.push(back);
      this.#rebuild();
      this.#told("Undid", back.label, touched(back.patch));
      return;
    }
    await this.#outbox.idle();
    if (this.conflict) return;
    if (!this.undoLabel) return this.announce("Nothing to undo.");
    this.#stepped("Undid", await this.api.undo(this.id, this.rev));
  }

  async #redoOne(): Promise<void> {
    if (this.shut()) return;
    this.cancel();
    this.flush();
    const again = this.redoLabel ? undefined : this.#backed.pop();
    if (again) {
      const rest = this.#backed;
      void this.commit(again.label, apply(this.#plan, again.patch));
      this.#backed = rest;
      this.#told("Redid", again.label, touched(again.patch));
      return;
    }
    await this.#outbox.idle();
    if (this.conflict) return;
    if (!this.redoLabel) return this.announce("Nothing to redo.");
    this.#stepped("Redid", await this.api.redo(this.id, this.rev));
  }

  #stepped(did: string, answer: Outcome<Stepped>): void {
    if (answer.ok) {
      this.#savedAt = this.#now();
      this.#take(answer.value);
      this.#told(did, answer.value.label, answer.value.about as Ref[]);
      return;
    }
    if (answer.status === 412)
      void this.reload("This plan was changed in another tab. You now see it as it is stored.");
    else this.show({ kind: "problem", sentence: answer.error });
  }

  #told(did: string, label: string, about: Ref[]): void {
    const left = about.filter((r) => has(this.plan, r) && !isRow(r));
    this.select(left);
    if (left.length > 0) this.lookAt({ about: left, gentle: true });
    this.announce(`${did}: ${label.charAt(0).toLowerCase()}${label.slice(1)}`);
    this.emit("steps");
  }

  /** The server says the plan has a new revision. */
  pushed(rev: number): void {
    this.#pushed = Math.max(this.#pushed, rev);
    this.#follow();
  }

  #follow(): void {
    const busy = this.#outbox.steps.length > 0 || this.#held || this.#draft || this.conflict;
    if (this.#pushed > this.rev && !busy) void this.reload();
  }

  /** Takes the plan as it is stored, unless something unsent came between. */
  async reload(why?: string): Promise<void> {
    const answer = await this.api.load(this.id);
    if (!answer.ok) {
      if (answer.status === 404) this.#stale(answer);
      return;
    }
    if (this.#outbox.steps.length > 0 || this.#held || answer.value.rev < this.rev) return;
    this.#take(answer.value);
    if (why) this.announce(why);
  }

  #take(s: { rev: number; doc: Plan; undo: string; redo: string }): void {
    this.#base = s.doc;
    this.#plan = s.doc;
    this.#draft = null;
    this.rev = s.rev;
    this.undoLabel = s.undo;
    this.redoLabel = s.redo;
    this.pruneSelection();
    this.emit("plan");
    this.emit("steps");
    this.emit("saved");
    this.#showLive();
  }

  /** After a conflict: what is stored replaces what is here. */
  async takeTheirs(): Promise<void> {
    const answer = await this.api.load(this.id);
    if (!answer.ok) return this.show({ kind: "problem", sentence: answer.error });
    this.#dropUnsent();
    this.#take(answer.value);
  }

  /** After a conflict: what is here becomes a plan of its own; resolves to its id. */
  async keepMine(): Promise<string | null> {
    const name = `${this.#plan.name} (my copy)`;
    const answer = await this.api.create(name, this.#plan.show, { ...clone(this.#plan), name });
    if (!answer.ok) {
      this.show({ kind: "problem", sentence: answer.error });
      return null;
    }
    this.#dropUnsent();
    this.#plan = this.#base;
    return answer.value.id;
  }

  #dropUnsent(): void {
    if (this.#held) clearTimeout(this.#held.timer);
    this.#held = null;
    this.#backed = [];
    this.conflict = null;
    this.#outbox.clear();
    this.emit("conflict");
  }

  #owner(): ConstructorParameters<typeof Outbox>[0] {
    return {
      send: (step, again) => this.#deliver(step, again),
      stored: (step, answer) => {
        this.#base = apply(this.#base, step.patch);
        this.rev = answer.rev;
        this.#savedAt = this.#now();
        if (this.#outbox.steps.length === 0 && !this.#held) {
          this.undoLabel = answer.undo;
          this.redoLabel = answer.redo;
        }
        this.emit("steps");
        this.#showLive();
        queueMicrotask(() => this.#follow());
      },
      refused: (step, why) => this.#refused(step, why),
      stale: (why) => this.#stale(why),
      changed: () => {
        this.#keep();
        this.emit("saved");
      },
    };
  }

  // What is not stored yet is also kept in the browser, for a tab that dies.
  #keep(): void {
    if (!this.#journal) return;
    const steps = this.#outbox.steps.map(({ label, patch }) => ({ label, patch }));
    const held = this.#held;
    if (held) steps.push({ label: held.label, patch: diff(held.before, this.#plan) });
    const unsent = this.#unsent();
    const kept = (): void => {
      const waited = this.#keeping;
      this.#kept = new Set(unsent);
      if (waited && this.saved.state === "no") this.emit("saved");
    };
    // A browser that refuses holds no step back from the server; the page goes on saying that it is not kept.
    const refused = (): void => {};
    const keep = this.#journal.keep(steps.length > 0 ? { rev: this.rev, doc: this.#plan, steps } : null);
    this.#journaled = keep.then(kept, refused);
  }

  #unsent(): readonly unknown[] {
    return this.#held ? [...this.#outbox.steps, this.#held] : [...this.#outbox.steps];
  }

  /** Whether the browser is still to keep some of what is unsent. */
  get #keeping(): boolean {
    return this.#journal !== undefined && this.#unsent().some((s) => !this.#kept.has(s));
  }

  // A step is sent only once the browser keeps it: what is on its way when the
  // page is closed is in one of the two places.
  async #whenKept(): Promise<void> {
    if (!this.#journaled) return;
    let timer: ReturnType<typeof setTimeout> | undefined;
    const late = new Promise<void>((r) => {
      timer = setTimeout(r, journalPatience);
    });
    await Promise.race([this.#journaled, late]);
    clearTimeout(timer);
  }

  /** Makes the steps a dead tab left behind again and says how many; null when the plan has moved on since. */
  resume(kept: Kept): number | null {
    const [first, ...rest] = kept.steps;
    if (!first) return 0;
    const undone = isEmpty(diff(this.#plan, apply(this.#plan, first.patch)));
    const lost = kept.rev + 1 === this.rev && this.undoLabel === first.label && undone;
    if (kept.rev !== this.rev && !lost) return null;
    const again = lost ? rest : kept.steps;
    for (const { label, patch } of again) void this.commit(label, apply(this.#plan, patch));
    return again.length;
  }

  // An answer may be lost after the step was stored. Then the next try is
  // refused as stale, although the only newer revision is our own.
  async #deliver(step: Step, again: boolean): ReturnType<Api["commit"]> {
    await this.#whenKept();
    const answer = await this.api.commit(this.id, this.rev, step.patch, step.label);
    if (answer.ok || answer.status !== 412 || !again) return answer;
    const now = await this.api.load(this.id);
    if (!now.ok) return now.status === 0 ? now : answer;
    const { doc, rev, undo, redo } = now.value;
    const ours = rev === this.rev + 1 && undo === step.label && isEmpty(diff(doc, apply(doc, step.patch)));
    return ours ? { ok: true, value: { rev, undo, redo } } : answer;
  }

  #refused(step: Step, why: Failure): void {
    this.#rebuild();
    const more = why.problems.map((p) => p.sentence).filter((s) => s !== why.error);
    this.show({ kind: "problem", sentence: `“${step.label}” was not kept. ${why.error}`, more });
  }

  #stale(why: Failure): void {
    this.conflict = why;
    this.emit("conflict");
    this.emit("saved");
  }

  #rebuild(): void {
    let plan = this.#base;
    for (const s of this.#outbox.steps) plan = apply(plan, s.patch);
    this.#plan = plan;
    this.#draft = null;
    this.pruneSelection();
    this.emit("plan");
    this.emit("steps");
    this.#showLive();
  }

  #showLive(): void {
    this.channel?.show(this.rev, diff(this.#base, this.plan));
  }
}
