// The catch-can test in view: which of the plan's audits it is, what the server makes
// of it whenever it is stored, and cans that are offered for an area until they are
// taken. Without the page, so that it can be tested.

import type { Outcome } from "./api";
import { isOf, type Stage, takeStep } from "./asking";
import { auditIDs, auditOf } from "./audits";
import type { Layers } from "./layers";
import { apply } from "./model";
import type { AuditView, CansView } from "./proofview";

/** What is used of the board. */
export interface AuditStage extends Stage {
  readonly layers: Pick<Layers, "audit" | "lookAtAudit" | "show" | "shows">;
  audit: AuditView | null;
  emit(topic: "audit"): void;
}

/** How cans can be set out, by the words of the server. */
export const canWays = [
  ["grid", "In rows and columns"],
  ["heads", "By the heads: near them and midway between"],
] as const;

export interface CansAsked {
  readonly area: string;
  readonly by: string;
  readonly count: number;
}

/** Asks the server; what is told names the revision it is of. */
export interface AuditAsk {
  audit(id: string): Promise<Outcome<AuditView>>;
  cans(asked: CansAsked): Promise<Outcome<CansView>>;
}

/** How long the plan must have stood still before an audit is reckoned anew, in ms. */
const STILL_MS = 300;

type Later = (fn: () => void, ms: number) => unknown;

export class Auditing {
  /** Cans on the board that are not the plan's yet. */
  offer: CansView | null = null;
  /** Why there is no answer. */
  trouble = "";
  #open = false;
  #shown = false; // the cans were on the board before
  #asked = ""; // what the last question was of: audit and revision
  #still = 0;
  #before: string | null = null; // the audit in view before an offer
  #turn = 0;
  #seeking = false;

  constructor(
    readonly board: AuditStage,
    readonly changed: () => void,
    readonly ask: AuditAsk,
    readonly later: Later = (fn, ms) => setTimeout(fn, ms),
  ) {
    board.subscribe("saved", () => this.look());
    this.follow();
  }

  /** The audit in view; null while the plan has none. */
  get id(): string | null {
    return this.board.layers.audit;
  }

  /** What was made of the audit in view, if anything yet. */
  get view(): AuditView | null {
    const { audit } = this.board;
    return audit && audit.id === this.id ? audit : null;
  }

  /** What was made is of a plan that has changed since. */
  get stale(): boolean {
    return this.view !== null && !isOf(this.view.rev, this.board);
  }

  get busy(): boolean {
    return this.#seeking;
  }

  /** The plan changed: an audit that is gone is left for the newest, as a first one is taken up. */
  follow(): void {
    const { plan, layers } = this.board;
    if (this.offer || (layers.audit !== null && auditOf(plan, layers.audit))) return;
    layers.lookAtAudit(auditIDs(plan).at(-1) ?? null);
    this.#tell(null);
  }

  choose(id: string): void {
    if (!auditOf(this.board.committed, id)) return;
    this.drop();
    this.board.layers.lookAtAudit(id);
    this.#asked = "";
    this.changed();
    this.look();
  }

  open(): void {
    this.#open = true;
    this.#shown = this.board.layers.shows("cans");
    this.board.layers.show("cans", true);
    this.look();
  }

  leave(): void {
    if (!this.#open) return;
    this.#open = false;
    this.drop();
    this.board.layers.show("cans", this.#shown);
  }

  /** To be called when the plan was changed or stored: what is shown is asked for anew once it rests. */
  look(): void {
    if (this.offer && !isOf(this.offer.rev, this.board)) this.drop();
    if (!this.#open || this.offer || this.id === null || this.board.saved.state !== "yes") return;
    const now = `${this.id} ${this.board.rev}`;
    if (now === this.#asked) return;
    const still = ++this.#still;
    this.later(
      () => {
        if (still === this.#still && this.#open) void this.#reckon();
      },
      this.view ? STILL_MS : 0,
    );
  }

  async #reckon(): Promise<void> {
    const { id, board } = this;
    if (id === null || this.offer) return;
    const asked = `${id} ${board.rev}`;
    this.#asked = asked;
    const answer = await this.ask.audit(id);
    if (this.#asked !== asked || this.id !== id) return;
    this.trouble = answer.ok ? "" : answer.error;
    if (answer.ok) this.#tell(answer.value);
    else this.#asked = ""; // asked again with the next change
    this.changed();
  }

  #tell(view: AuditView | null): void {
    if (this.board.audit === view) return;
    this.board.audit = view;
    this.board.emit("audit");
  }

  /** Asks for a layout of cans and shows it on the board. */
  async seek(asked: CansAsked): Promise<void> {
    this.drop();
    const { board } = this;
    const turn = ++this.#turn;
    this.#seeking = true;
    this.changed();
    const answer = await this.ask.cans(asked);
    if (turn !== this.#turn) return;
    this.#seeking = false;
    this.trouble = answer.ok ? "" : answer.error;
    if (answer.ok && !answer.value.patch) this.trouble = answer.value.says;
    if (answer.ok && answer.value.patch && this.#open) {
      if (isOf(answer.value.rev, board)) this.#show(answer.value);
      else this.trouble = "The plan was changed meanwhile. Ask again.";
    }
    this.changed();
  }

  #show(offer: CansView): void {
    const { board } = this;
    this.offer = offer;
    this.#before = board.layers.audit;
    board.layers.lookAtAudit(offer.audit);
    board.layers.show("cans", true);
    this.picture();
    board.announce(offer.says);
  }

  /** Shows on the board what is offered: once more when the board is held for it, which ends what was shown. */
  picture(): void {
    const { offer, board } = this;
    if (offer?.patch) board.preview(apply(board.committed, offer.patch));
  }

  /** Takes the cans that are offered, as one step. */
  async take(): Promise<void> {
    const { offer, board } = this;
    if (!offer?.patch) return;
    const plan = apply(board.committed, offer.patch);
    const { label, rev } = offer;
    if (!isOf(rev, board)) this.drop();
    this.offer = null;
    await takeStep(board, rev, { label, plan, says: `${label}: done.` });
    this.follow();
    this.changed();
    this.look();
  }

  /** Lets go of what is offered or asked for. */
  drop(): void {
    this.#turn++;
    this.#seeking = false;
    if (!this.offer) return;
    this.offer = null;
    this.board.layers.lookAtAudit(this.#before);
    this.board.cancel();
    this.follow();
    this.changed();
  }

  /** Takes the evenness found into the watering plan, as one step. */
  async use(): Promise<void> {
    const { view, board } = this;
    if (!view?.patch) return;
    await takeStep(board, view.rev, {
      label: view.label,
      plan: apply(board.committed, view.patch),
      says: `${view.label}: done.`,
    });
  }
}
