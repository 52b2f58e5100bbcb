// Finding wires: those that come out at the controller are put in, then one thing at a
// time, the one that tells the most: a reading, or a touch and what ran.

import { button, h } from "../dom";
import type { ProofNext } from "../proofview";
import { measures } from "./measures";
import { photoButton } from "./photobutton";
import { nextOrder, recordID, recordsOf, setRecord } from "./records";
import type { Part as SectionPart } from "./sections";
import type { Yard } from "./session";
import { caution, column, line, type Part, pick, remade, type Screen } from "./ui";
import { wireList } from "./wirelist";
import { soFar, terminalMap } from "./wiremap";
import { wireName, wireOptions } from "./wirename";
import { zonesOf } from "./zoneruns";

export class Wires implements SectionPart {
  readonly id = "wires";
  readonly title = "Wires";

  constructor(readonly yard: Yard) {}

  left(): string {
    const { yard } = this;
    const wires = yard.view?.wires;
    const all = recordsOf(yard.plan, "wires").length;
    if (!wires || all === 0) return "";
    const found = (wires.wires ?? []).filter((w) => w.kind !== "unknown").length;
    return found >= all ? "done" : `${all - found} left`;
  }

  at(item: string): string {
    if (item !== "") return item;
    return recordsOf(this.yard.plan, "wires").length === 0 ? "list" : "find";
  }

  made(): string {
    return "";
  }

  open(item: string): Screen {
    const { yard } = this;
    const go = (to: string) => yard.go({ section: "wires", item: to });
    if (item === "list") {
      const none = (): boolean => recordsOf(yard.plan, "wires").length === 0;
      const part = column(
        "yard-one",
        line("yard-says", () => yard.view?.wires.says ?? ""),
        caution(() => (none() ? (yard.view?.wires.caution ?? "") : "")),
        wireList(yard),
        line("yard-how", () =>
          none()
            ? "Once all are noted the page says which to read or power next, one after another, until it is known which wire goes to which terminal."
            : "",
        ),
      );
      return {
        ...part,
        acts: () => ({
          main:
            recordsOf(yard.plan, "wires").length > 0 ? { label: "Find them", run: () => go("find") } : null,
        }),
      };
    }
    const part = column(
      "yard-one",
      line("yard-says", () => yard.view?.wires.says ?? ""),
      caution(() => yard.view?.wires.caution ?? "", true),
      remade(
        "yard-look",
        () => yard.view?.wires.warnings,
        () => {
          const warnings = yard.view?.wires.warnings ?? [];
          return warnings.length > 0
            ? [
                h("h2", { class: "yard-label" }, "Look at these"),
                h("ul", {}, ...warnings.map((w) => h("li", {}, w))),
              ]
            : [];
        },
      ),
      this.#next(),
      line("yard-title", () => (yard.view && !yard.view.wires.next ? "What was found" : ""), "h2"),
      terminalMap(yard),
      soFar(yard),
      this.#byHand(),
      photoButton(yard, "controller/controller", () => "the controller"),
    );
    return { ...part, acts: () => ({ back: { label: "Wires", run: () => go("list") } }) };
  }

  /** What to do next, with the answers to it. */
  #next(): Part {
    const { yard } = this;
    const zones = () => zonesOf(yard).map((z) => [z.id, z.title]);
    return remade(
      "yard-next",
      () => [yard.view?.wires.next, yard.fresh, yard.trouble, zones()],
      () => {
        const next = yard.view?.wires.next;
        if (!next) return [];
        // What is noted is not asked for twice: the next thing follows from it.
        if (!yard.fresh) {
          const away = yard.trouble ? " Meanwhile another touch or reading can be noted below." : "";
          return [h("p", { class: "yard-lead" }, `Noted. What to do next is being worked out.${away}`)];
        }
        const [first = "", ...rest] = next.says.split(/(?<=\.) /);
        const says = [
          h("h2", { class: "yard-title" }, first),
          ...(rest.length > 0 ? [h("p", {}, rest.join(" "))] : []),
        ];
        if (next.kind === "touch") return [...says, ...this.#touched(next.wire)];
        if (next.kind === "read") return [...says, ...this.#read(next)];
        return says;
      },
    );
  }

  /** The answers to a touch: the zone that ran, several, or none. */
  #touched(wire: string): HTMLElement[] {
    const { yard } = this;
    const ran = new Set<string>();
    const note = (zones: string[]): void => {
      const label = `Touch ${wireName(yard, wire)}`;
      const touch = {
        order: nextOrder(yard.plan, "touches"),
        wire,
        ran: zones.length > 0 ? zones : undefined,
      };
      yard.step(label, setRecord(yard.plan, "touches", recordID("t"), touch));
    };
    let more = false;
    const done = button("These ran", "main yard-big", () => note([...ran].sort()));
    done.hidden = true;
    const rows = zonesOf(yard).map((z) => {
      const b = button(z.title, "yard-answer", () => {
        if (!more) return note([z.id]);
        if (!ran.delete(z.id)) ran.add(z.id);
        b.setAttribute("aria-pressed", String(ran.has(z.id)));
        done.disabled = ran.size === 0;
      });
      return b;
    });
    const several = button("Several ran…", "yard-answer yard-other", () => {
      more = !more;
      several.setAttribute("aria-pressed", String(more));
      done.hidden = !more;
      done.disabled = ran.size === 0;
      for (const b of rows) b.toggleAttribute("aria-pressed", false);
      if (!more) ran.clear();
    });
    return [
      h("p", { class: "yard-label", id: "yard-ran" }, "What ran?"),
      h(
        "div",
        { class: "yard-answers", role: "group", "aria-labelledby": "yard-ran" },
        ...rows,
        button("Nothing ran", "yard-answer yard-other", () => note([])),
        several,
      ),
      done,
    ];
  }

  /** The answers to a reading: so many ohms, or an open circuit. */
  #read(next: ProofNext): HTMLElement[] {
    const { yard } = this;
    const { from, to } = next;
    const key = `ohms/${from}/${to}`;
    const error = h("p", { class: "error", id: "yard-ohms-error", hidden: true });
    const input = h("input", {
      id: "yard-ohms",
      type: "text",
      inputmode: "decimal",
      enterkeyhint: "done",
      autocomplete: "off",
      "aria-describedby": "yard-ohms-error",
      value: yard.scraps.of(key) ?? "",
      oninput: () =>
        yard.scraps.keep(key, {
          text: input.value,
          what: `resistance from ${wireName(yard, from)} to ${wireName(yard, to)}`,
          where: "wires/find",
        }),
      onkeydown: (e: KeyboardEvent) => {
        if (e.key === "Enter") take();
      },
    });
    const put = (ohms: number | undefined): void => {
      yard.scraps.drop(key);
      noteOhms(yard, from, to, ohms);
    };
    const take = (): void => {
      const v = measures.ohms.read(input.value, yard.plan.show);
      const trouble = !v.ok
        ? v.sentence
        : v.value === undefined
          ? "Nothing is written here. Type what the meter shows, or press Open circuit."
          : null;
      error.textContent = trouble ?? "";
      error.hidden = trouble === null;
      input.toggleAttribute("aria-invalid", trouble !== null);
      if (v.ok && v.value !== undefined) put(v.value);
      else input.focus();
    };
    return [
      h(
        "div",
        { class: "field text" },
        h("label", { for: "yard-ohms" }, "The meter shows ", h("span", { class: "hint" }, "Ω")),
        input,
        error,
      ),
      h(
        "div",
        { class: "yard-answers" },
        button("Take the reading", "main yard-answer", take),
        button("Open circuit", "yard-answer yard-other", () => put(undefined)),
      ),
    ];
  }

  /** A touch or a reading other than the one proposed. */
  #byHand(): Part {
    const { yard } = this;
    let wire = "";
    let to = "";
    const el = h("details", { class: "yard-all" }, h("summary", {}, "Another touch or reading"));
    const answers = remade(
      "yard-next",
      () => [wire, to, zonesOf(yard).map((z) => z.title), el.open],
      () => {
        if (!el.open || !wire) return [];
        if (to) return this.#read({ kind: "read", from: wire, to, wire: "", says: "" });
        return this.#touched(wire);
      },
    );
    const options = (none: string) => () => [{ value: "", label: none }, ...wireOptions(yard)];
    const inner = column(
      "",
      pick(
        "Wire",
        options("Choose a wire"),
        () => wire,
        (v) => {
          wire = v;
          answers.update();
        },
      ),
      pick(
        "Read against",
        options("Nothing: it is touched"),
        () => to,
        (v) => {
          to = v === wire ? "" : v;
          answers.update();
        },
      ),
      answers,
    );
    el.append(inner.el);
    el.addEventListener("toggle", () => inner.update());
    return { el, update: inner.update };
  }
}

function noteOhms(yard: Yard, from: string, to: string, ohms: number | undefined): void {
  const label = `Read ${wireName(yard, from)} to ${wireName(yard, to)}`;
  const reading = { order: nextOrder(yard.plan, "resistances"), from, to, ohms };
  yard.step(label, setRecord(yard.plan, "resistances", recordID("o"), reading));
}
