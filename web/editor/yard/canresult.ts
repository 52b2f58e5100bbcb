// What the catches say: figures, the measured map beside the predicted at the same cans,
// the heads at fault, and the step that takes it into the watering plan.

import { auditName, auditOf } from "../audits";
import { button, h } from "../dom";
import { apply, diff, isEmpty } from "../merge";
import { find } from "../model";
import { colourOf, contrast, onTarget, shareOf, strayColour } from "../palette";
import { headAt } from "../pattern";
import type { AuditCan, AuditFault, AuditView } from "../proofview";
import { theme } from "../theme";
import { type Dot, picture } from "./map";
import { auditAgain } from "./records";
import type { Yard } from "./session";
import { type Act, line, type Part, remade } from "./ui";

/** The colour of a byte of the map, as the board paints it. */
function colour(byte: number): { fill: string; ink: string } {
  const t = theme();
  const rgb = onTarget(byte) ? colourOf(shareOf(byte), t) : strayColour(t);
  const dark = contrast(rgb, [0, 0, 0]) >= contrast(rgb, [255, 255, 255]);
  return { fill: `rgb(${rgb.join(" ")})`, ink: dark ? "#000" : "#fff" };
}

export function canResult(yard: Yard, audit: string): Part {
  let trouble = "";
  let asked = -1;
  const ask = async (): Promise<void> => {
    const { rev } = yard.board;
    asked = rev;
    trouble = (await yard.reckon(audit)) ?? "";
    if (trouble) yard.changed();
  };
  const view = () => yard.audit(audit);
  const doing = () => {
    const v = view();
    return v && takingOf(yard, v);
  };
  const shown = remade(
    "yard-result",
    () => [view(), trouble, yard.plan.areas, yard.board.rev, doing()],
    () => {
      if (trouble) return [h("p", { class: "error" }, trouble)];
      const v = view();
      return v ? whole(yard, v) : [h("p", {}, "What the cans say is being worked out…")];
    },
  );
  const el = h("div", {}, line("yard-title", () => auditName(yard.plan, audit), "h2").el, shown.el);
  const update = (): void => {
    const stored = yard.board.saved.state === "yes";
    if (stored && yard.board.rev !== asked && view()?.rev !== yard.board.rev && auditOf(yard.plan, audit))
      void ask();
    shown.update();
  };
  update();
  return { el, update };
}

function whole(yard: Yard, v: AuditView): Node[] {
  const out: (Node | null)[] = [h("p", { class: "yard-lead" }, v.says)];
  const list = (title: string, of: readonly string[] | null): Node | null =>
    of && of.length > 0
      ? h(
          "section",
          {},
          h("h3", {}, title),
          h("ul", { class: "program-list" }, ...of.map((s) => h("li", {}, s))),
        )
      : null;
  if (v.known) {
    out.push(faults(yard, v), list("What these cans cannot tell", v.unsure));
    out.push(maps(yard, v), figures(v), use(yard, v), table(v.cans ?? []));
    out.push(everyHead(v.heads ?? []));
  }
  out.push(
    list("Of an audit, this one does not keep", v.rules),
    list("What was taken for the prediction", v.notes ?? null),
    v.known && (v.faults ?? []).length === 0 ? again(yard, v.id) : null,
  );
  return out.filter((n): n is Node => n !== null);
}

/** What was mended is proved by catching the water where it was caught before. */
function again(yard: Yard, audit: string): Node {
  return button("Catch again in the same places", "yard-big", () => {
    const made = auditAgain(yard.plan, audit, yard.today);
    yard.step(`Catch again: ${auditName(yard.plan, audit)}`, made.plan);
    yard.go({ section: "cans", item: `${made.id}/setup` });
  });
}

function figures(v: AuditView): Node | null {
  const all = v.figures ?? [];
  if (all.length === 0) return null;
  const heads = ["Figure", "Measured", "Predicted"];
  return scroll(
    "Figures of the audit",
    h(
      "table",
      { class: "program-table yard-figures" },
      h("thead", {}, h("tr", {}, ...heads.map((t) => h("th", { scope: "col" }, t)))),
      h(
        "tbody",
        {},
        ...all.map((f) =>
          h(
            "tr",
            {},
            h("th", { scope: "row" }, f.name, f.form ? h("span", { class: "hint" }, ` ${f.form}`) : null),
            h("td", {}, h("b", {}, f.measured)),
            h("td", {}, f.expected || "–"),
          ),
        ),
      ),
    ),
  );
}

const scroll = (name: string, kid: Node): HTMLElement =>
  h("div", { class: "scroll", role: "region", "aria-label": name, tabindex: "0" }, kid);

function faults(yard: Yard, { id: audit, faults: found }: AuditView): Node {
  const all = found ?? [];
  const row = (f: AuditFault): HTMLElement => {
    const says = [f.output, f.tilt].filter(Boolean).join("; ");
    const go = button(`Go to head ${f.tag}`, "yard-big", () => yard.go({ section: "heads", item: f.head }));
    return h(
      "li",
      { class: "yard-fault", "data-sure": f.sure ? "yes" : "no" },
      h("p", {}, h("b", {}, `Head ${f.tag} ${f.verdict}`), f.sure ? "" : " (not sure)"),
      says ? h("p", {}, says) : null,
      f.look ? h("p", { class: "yard-do" }, f.look) : null,
      find(yard.plan, "heads", f.head) ? go : null,
    );
  };
  const none = h(
    "p",
    {},
    "No head stands out: what the cans caught is what these heads would bring, give or take.",
  );
  return h(
    "section",
    {},
    h("h3", {}, "Heads at fault"),
    all.length > 0 ? h("ol", { class: "yard-list" }, ...all.map(row)) : none,
    all.length > 0 ? h("p", {}, "Once it is mended:") : null,
    all.length > 0 ? again(yard, audit) : null,
  );
}

/** Measured and predicted side by side, in the colours of the board's map. */
function maps(yard: Yard, v: AuditView): Node {
  const cans = v.cans ?? [];
  const one = (
    title: string,
    byteOf: (c: AuditCan) => number | null,
    percentOf: (c: AuditCan) => string,
  ): Node => {
    const dots: Dot[] = cans.map((c) => {
      const byte = c.out ? null : byteOf(c);
      return byte === null
        ? { at: [c.x_ft, c.y_ft], cls: "yard-caught none" }
        : {
            at: [c.x_ft, c.y_ft],
            cls: "yard-caught",
            // The colour ends at twice the mean; the figure does not.
            inside: percentOf(c).replace(/\s*%$/, ""),
            ...colour(byte),
          };
    });
    const bad = (v.faults ?? []).flatMap((f): Dot[] => {
      const x = find(yard.plan, "heads", f.head);
      return x ? [{ at: headAt(x), text: f.tag, cls: "yard-head here" }] : [];
    });
    const svg = picture(yard.plan, {
      title: `${title} at each can, in percent of the mean; the table below has the same`,
      dots: [...dots, ...bad],
      around: cans.map((c) => [c.x_ft, c.y_ft] as const),
      margin: 5,
    });
    return h(
      "figure",
      {},
      svg ? (svg as unknown as Node) : null,
      h("figcaption", {}, `${title}, % of the mean`),
    );
  };
  return h(
    "div",
    { class: "yard-pair" },
    one(
      "Measured",
      (c) => c.measured_byte,
      (c) => c.percent,
    ),
    one(
      "Predicted",
      (c) => c.predicted_byte,
      (c) => c.predicted_percent,
    ),
  );
}

/** What taking it would change; while a head is surely at fault it is taken here and not under the thumb. */
function use(yard: Yard, v: AuditView): Node | null {
  if (!v.uses) return null;
  const act = surely(v) ? takingOf(yard, v) : null;
  const take = act && button(act.label, "yard-big", act.run);
  if (take) take.disabled = act?.off ?? false;
  return h("div", { class: "yard-uses" }, h("p", {}, v.uses), take);
}

/** The head that is surely at fault. */
const surely = (v: AuditView): AuditFault | undefined => (v.faults ?? []).find((f) => f.sure);

/** What is to be done with a result: the head at fault first, then its evenness taken into the program. */
export function following(yard: Yard, audit: string): Act | null {
  const v = yard.audit(audit);
  if (!v) return null;
  const bad = surely(v);
  if (bad && find(yard.plan, "heads", bad.head))
    return { label: `Go to head ${bad.tag}`, run: () => yard.go({ section: "heads", item: bad.head }) };
  return takingOf(yard, v);
}

/** Taking what was found into the watering program, where it can be; the way there once it was. */
function takingOf(yard: Yard, v: AuditView): Act | null {
  const { patch } = v;
  if (!patch) return null;
  if (isEmpty(diff(yard.plan, apply(yard.plan, patch))))
    return {
      label: "See the watering program",
      run: () => location.assign(`/plans/${yard.board.id}/program`),
    };
  return {
    label: "Take it into the program",
    off: v.rev !== yard.board.rev,
    run: () => yard.step(v.label, apply(yard.plan, patch)),
  };
}

function table(cans: readonly AuditCan[]): Node {
  const heads = ["Can", "Caught", "Depth", "Predicted", "Of the mean"];
  return h(
    "details",
    {},
    h("summary", {}, "Can by can"),
    scroll(
      "Can by can",
      h(
        "table",
        { class: "program-table" },
        h("thead", {}, h("tr", {}, ...heads.map((t) => h("th", { scope: "col" }, t)))),
        h(
          "tbody",
          {},
          ...cans.map((c) =>
            h(
              "tr",
              {},
              h(
                "th",
                { scope: "row" },
                String(c.number),
                c.where ? h("span", { class: "hint" }, ` ${c.where}`) : null,
              ),
              h("td", {}, c.out ? "left out" : c.catch || "not read"),
              h("td", {}, c.depth || "–"),
              h("td", {}, c.predicted || "–"),
              h("td", {}, c.percent || "–", c.low ? ", driest quarter" : ""),
            ),
          ),
        ),
      ),
    ),
  );
}

function everyHead(all: readonly AuditFault[]): Node | null {
  if (all.length === 0) return null;
  const heads = ["Head", "Output", "Lean", "Verdict"];
  return h(
    "details",
    {},
    h("summary", {}, "Head by head"),
    scroll(
      "Head by head",
      h(
        "table",
        { class: "program-table" },
        h("thead", {}, h("tr", {}, ...heads.map((t) => h("th", { scope: "col" }, t)))),
        h(
          "tbody",
          {},
          ...all.map((f) =>
            h(
              "tr",
              {},
              h("th", { scope: "row" }, f.tag),
              h("td", {}, f.output || "–"),
              h("td", {}, f.tilt || "–"),
              h("td", {}, f.verdict),
            ),
          ),
        ),
      ),
    ),
  );
}
