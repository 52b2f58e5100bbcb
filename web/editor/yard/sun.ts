// The look for full sun: light paper, black ink, thick rules. It is chosen by hand, for
// no screen says how bright it is around it.

import { button, setAttr } from "../dom";

const kept = "evenfall-yard-sun";

/** Puts the choice in force and a switch for it into the head of the page. */
export function followSun(head: HTMLElement): void {
  const apply = (): void => {
    const on = localStorage.getItem(kept) === "on";
    setAttr(document.documentElement, "data-sun", on);
    setAttr(b, "aria-pressed", String(on));
  };
  const b = button("In the sun", "yard-sun", () => {
    if (localStorage.getItem(kept) === "on") localStorage.removeItem(kept);
    else localStorage.setItem(kept, "on");
    apply();
  });
  head.prepend(b);
  apply();
}
