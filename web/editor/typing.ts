// Numbers and words typed on the board: opens the box with what a number would
// mean now, and takes what it gives to the handle in hand or to the tool.

import type { Drawing } from "./drawing";
import { type Entry, type Field, isAwaited } from "./entry";
import { EntryBox } from "./entrybox";
import { angleText, lengthText, placeText } from "./format";
import { directionDeg, distance, type Point } from "./geometry";
import type { Grip } from "./grips";
import { faultSentence } from "./shape";
import { brokenRing, gripFields, gripLabel, typedGrip } from "./tools/grasp";
import { type Pixel, pixel, toPixel } from "./view";

export class Typing {
  readonly #box: EntryBox;

  constructor(
    readonly d: Drawing,
    el: HTMLElement,
  ) {
    this.#box = new EntryBox(el, {
      typed: (entry) => this.#typed(entry),
      words: (text) => d.tell({ type: "text", text }),
      closed: (escaped) => this.#closed(escaped),
    });
  }

  get open(): boolean {
    return this.#box.open;
  }

  close(): void {
    this.#box.close(false);
  }

  /** The pointer goes to work beside the box: words are kept, a number half typed is not. */
  leave(): void {
    this.#box.leave();
  }

  /** Leaves the box without taking what is in it. */
  escape(): void {
    this.#box.close(true);
  }

  /** The handle that a number is for, unless a draft wants it. */
  get #grip(): Grip | null {
    return this.d.tool.busy ? null : this.d.inHand;
  }

  /** What a typed number would mean now; empty when nothing. */
  get #fields(): readonly Field[] {
    return this.#grip ? gripFields(this.#grip) : this.d.tool.fields(this.d.around);
  }

  /** Whether a number would mean anything now. */
  get possible(): boolean {
    return this.#fields.length > 0;
  }

  /** Opens the box with a first character; false when a number would mean nothing. */
  begin(first: string): boolean {
    const fields = this.#fields;
    if (fields.length === 0) return false;
    const asked = { fields, system: this.d.board.plan.show, placeFirst: this.d.tool.placeFirst() };
    this.#box.show(asked, first, this.#pixel());
    this.follow();
    return true;
  }

  /** A tool that waits for words or a number gets the box at once. */
  openIfAwaited(): void {
    if (!this.open && isAwaited(this.d.tool.fields(this.d.around)[0])) this.begin("");
  }

  /** Shows in the empty fields what the pointer would give. */
  follow(): void {
    const at = this.d.pointing.aim?.at;
    const from = this.d.tool.anchor(this.d.around)?.at;
    if (!this.open || !at || !from || this.#fields[0] !== "length") return;
    this.#box.hint([
      lengthText(distance(from, at), this.d.board.plan.show),
      angleText(directionDeg(from, at)),
    ]);
  }

  #pixel(): Pixel {
    const { view, pointing } = this.d;
    const at: Point | undefined = this.#grip?.at ?? pointing.aim?.at;
    return at ? toPixel(view, at) : pixel(view.width / 2, view.height / 2);
  }

  #typed(entry: Entry): string | null {
    const { d } = this;
    const grip = this.#grip;
    if (grip) return this.#typedForGrip(grip, entry);
    const refused = d.typed(entry, d.pointing.aimOrMiddle);
    if (refused !== null) return refused;
    d.pointing.setPlaced(entry.place ?? d.tool.rests(d.around));
    return null;
  }

  #typedForGrip(grip: Grip, entry: Entry): string | null {
    const { d } = this;
    const done = typedGrip(d.board.committed, grip, entry, d.pointing.aimOrMiddle.at, d.around);
    if ("why" in done) return done.why;
    const broken = brokenRing(done.plan, grip.ref, grip.ring);
    if (broken) return faultSentence(broken.fault, placeText(broken.fault.at, done.plan.show));
    d.commit(gripLabel(done.plan, grip), done.plan);
    return null;
  }

  #closed(escaped: boolean): void {
    if (escaped && isAwaited(this.d.tool.fields(this.d.around)[0])) this.d.tell({ type: "escape" });
    this.d.focus();
    this.d.refresh();
  }
}
