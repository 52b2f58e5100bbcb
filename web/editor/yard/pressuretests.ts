// Pipe held at pressure: what the gauge showed before and after, and how long.

import { button, h } from "../dom";
import { find } from "../model";
import { measures } from "./measures";
import { dropRecord, recordID, recordsOf, setRecord } from "./records";
import type { Yard } from "./session";
import { choose, column, day, figure, line, type Part, pick, remade, words } from "./ui";

/** The tests of a plan: of the main, or of laterals by their zone. */
export function pressureTests(yard: Yard, main: boolean): Part {
  const mine = () => recordsOf(yard.plan, "pressure_tests").filter(([, t]) => (t.of === undefined) === main);
  const parts = new Map<string, Part>();
  const list = h("div", { class: "yard-tests" });
  const update = (): void => {
    const ids = mine().map(([id]) => id);
    for (const [id, part] of parts) {
      if (ids.includes(id)) continue;
      part.el.remove();
      parts.delete(id);
    }
    for (const id of ids) {
      let part = parts.get(id);
      if (!part) {
        part = one(yard, id, main);
        parts.set(id, part);
        list.append(part.el);
      }
      part.update();
    }
  };
  const add = button(main ? "Note a pressure test" : "Note a test of a lateral", "yard-big", () => {
    const id = recordID("e");
    const of = main ? undefined : Object.keys(yard.plan.zones ?? {}).sort()[0];
    yard.step("Note a pressure test", setRecord(yard.plan, "pressure_tests", id, { on: yard.today, of }));
    parts.get(id)?.el.querySelector("input")?.focus();
  });
  update();
  return { el: h("div", { class: "yard-apart" }, list, add), update };
}

function one(yard: Yard, id: string, main: boolean): Part {
  const test = () => yard.plan.proof?.pressure_tests?.[id];
  const view = () => (yard.view?.start.tests ?? []).find((t) => t.id === id);
  const set = (what: string, change: Parameters<typeof setRecord<"pressure_tests">>[3]): void =>
    yard.step(`${what} of the pressure test`, setRecord(yard.plan, "pressure_tests", id, change));
  const a = <K extends "start_psi" | "end_psi" | "minutes">(key: K, label: string) => ({
    key: `test/${id}/${key}`,
    label,
    what: `${label.toLowerCase()} of the pressure test`,
    get: () => test()?.[key],
    set: (v: number | undefined) => set(label, { [key]: v }),
  });
  const zones = () =>
    Object.entries(yard.plan.zones ?? {})
      .sort(([, x], [, y]) => (x.station ?? 0) - (y.station ?? 0))
      .map(([value, z]) => ({ value, label: z.station ? `${z.station} ${z.name}` : z.name }));
  const verdict = remade("", view, () => {
    const v = view();
    if (!v?.says) return [];
    return [
      h("p", { class: "yard-verdict", "data-good": v.known ? (v.holds ? "yes" : "no") : "unknown" }, v.says),
    ];
  });
  const of = (): string => {
    const zone = test()?.of;
    if (zone === undefined) return "Main";
    return find(yard.plan, "zones", zone)?.name ?? "A zone no longer here";
  };
  return column(
    "yard-card",
    line("", () => `${of()}, ${test()?.on ?? "no date"}`, "h3"),
    main
      ? null
      : pick(
          "Lateral of",
          zones,
          () => test()?.of ?? "",
          (v) => set("Zone", { of: v }),
        ),
    column(
      "yard-fields",
      figure(yard, measures.psi, a("start_psi", "At the start")),
      figure(yard, measures.psi, a("end_psi", "At the end")),
      figure(yard, measures.heldMinutes, a("minutes", "Held for")),
      day(
        "Date",
        () => test()?.on,
        (on) => set("Date", { on }),
      ),
    ),
    choose(
      "The meter’s dial meanwhile",
      [
        { value: "", label: "Not looked at" },
        { value: "still", label: "Stood still" },
        { value: "moved", label: "Moved" },
      ],
      () => test()?.meter ?? "",
      (v) => set("Meter", { meter: (v || undefined) as "still" | undefined }),
    ),
    verdict,
    words(
      yard,
      {
        key: `test/${id}/note`,
        label: "Note",
        what: "note on the pressure test",
        get: () => test()?.note,
        set: (note) => set("Note", { note }),
      },
      true,
    ),
    button("Take this test away", "grave yard-big", () =>
      yard.step("Take a pressure test away", dropRecord(yard.plan, "pressure_tests", id)),
    ),
  );
}
