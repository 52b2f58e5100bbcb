// A finger or pen held still: what a right click is to a mouse.

import { LONG_MS } from "./pointers";

export class LongPress {
  #timer: ReturnType<typeof setTimeout> | null = null;

  /** held is told of the press once it has lasted; whether it stayed still is for others to say. */
  constructor(readonly held: (press: PointerEvent) => void) {}

  down(e: PointerEvent): void {
    this.drop();
    if (e.pointerType === "mouse" || !e.isPrimary) return;
    this.#timer = setTimeout(() => {
      this.#timer = null;
      this.held(e);
    }, LONG_MS);
  }

  /** The press ended, or another finger came. */
  drop(): void {
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.#timer = null;
  }
}
