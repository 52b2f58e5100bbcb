// What the Supply page says about measuring, and about what can hurt.

import { h } from "../dom";

/** The way to measure pressure and flow together; open until something was measured. */
export function aboutMeasuring(open: boolean): HTMLElement {
  return h(
    "details",
    { class: "how", open },
    h("summary", {}, "How to measure: with a gauge while water runs"),
    h(
      "ol",
      { class: "steps-of" },
      h(
        "li",
        {},
        "Choose the worst hour: early evening in the hottest weeks. Nobody draws water in the house.",
      ),
      h(
        "li",
        {},
        "Screw a gauge on a tap near the point of connection. With all water shut off, read it: the static pressure.",
      ),
      h(
        "li",
        {},
        "Open a second tap, or the test port, until the gauge has fallen by about a fifth, and leave it so. Read the gauge on the shut tap again: the pressure left.",
      ),
      h(
        "li",
        {},
        "While it runs like that, find the flow: read the meter for one minute, or time a container of known size at the open tap.",
      ),
      h(
        "li",
        {},
        "Type all three here. Hydrants are tested in the same way (NFPA 291): two gauges, one still and one running.",
      ),
    ),
    h(
      "p",
      { class: "hint" },
      "A tap after the house’s regulator, or at the end of old 1/2 in pipe, tells nothing of a connection before them.",
    ),
  );
}

/** Why a timed container alone is only rough. */
export function aboutContainer(): HTMLElement {
  return h(
    "details",
    { class: "how" },
    h("summary", {}, "Only when there is no gauge, and only rough"),
    h(
      "p",
      {},
      "Open the tap wide, let it run into a container of known size and time it. The water then leaves at no pressure at all, and the tap itself holds it back: where 12 gpm (45 l/min) run into a bucket at 60 psi (4.1 bar), only about half of it is left at 45 psi (3.1 bar). So it counts as one rough point of the curve, never as a limit.",
    ),
  );
}

/** Who may work on a pipe under pressure. */
export function cautionOnMains(): HTMLElement {
  return h(
    "p",
    { class: "caution" },
    "The meter and all before it are the water company’s. Tapping a main or the house’s pipe is a licensed plumber’s work in most places: shut the water off and let the pressure out first. Local code decides. A pipe that feeds fire sprinklers is never tapped.",
  );
}
