// A long list of buttons that is one stop of the Tab key: the arrow keys move
// along it.

export class Roving {
  constructor(readonly root: HTMLElement) {
    root.addEventListener("keydown", (e) => this.#key(e));
    root.addEventListener("focusin", (e) => {
      const el = e.target as HTMLElement;
      if (el.dataset.key) this.#stopAt(el);
    });
  }

  get #all(): HTMLElement[] {
    return Array.from(this.root.querySelectorAll<HTMLElement>("[data-key]"));
  }

  /** Replaces what is in the list; the focus stays on the thing of the same key. */
  show(children: readonly HTMLElement[]): void {
    const within = this.root.contains(document.activeElement);
    const key = this.#all.find((el) => el.tabIndex === 0)?.dataset.key;
    this.root.replaceChildren(...children);
    const all = this.#all;
    const at = all.find((el) => el.dataset.key === key) ?? all[0];
    if (!at) return;
    this.#stopAt(at);
    if (within) at.focus();
  }

  /** Puts the focus on the thing of a key, or on the first. */
  focus(key: string): void {
    const all = this.#all;
    (all.find((el) => el.dataset.key === key) ?? all[0])?.focus();
  }

  #stopAt(at: HTMLElement): void {
    for (const el of this.#all) el.tabIndex = el === at ? 0 : -1;
  }

  #key(e: KeyboardEvent): void {
    const all = this.#all;
    const at = all.indexOf(e.target as HTMLElement);
    if (at < 0 || e.altKey || e.ctrlKey || e.metaKey) return;
    const to = { ArrowDown: at + 1, ArrowUp: at - 1, Home: 0, End: all.length - 1 }[e.key];
    const next = to === undefined ? undefined : all[to];
    if (to === undefined) return;
    e.preventDefault();
    next?.focus();
  }
}
