// What a plan without a shape shows: the ways to begin. And the note the
// demo opens with.

import { server } from "../api";
import { byID, h } from "../dom";
import { ids, type Ref } from "../model";
import type { Board } from "../state";
import { allThings } from "../things";
import { bringOutlines } from "./outlines";

/** What the buttons of an empty plan do. */
interface Ways {
  /** Draws the property line. */
  draw(): void;
  /** Draws from measurements by tape. */
  tape(): void;
  /** Chooses a picture to trace over. */
  trace(): void;
}

/** Shows the ways to begin until there is a first shape. */
export function showEmpty(board: Board, ways: Ways): void {
  const el = byID("empty");
  const problem = h("p", { class: "error", role: "alert", hidden: true });
  const say = (sentence: string | null): void => {
    problem.textContent = sentence;
    problem.hidden = sentence === null;
  };
  const file = outlineFile(async (chosen) => {
    const wrong = await bringOutlines(board, chosen);
    say(wrong);
    if (!wrong && ids(board.plan, "areas").length > 0) board.lookAt({ about: areas(board) });
  });
  const block = h(
    "section",
    { "aria-labelledby": "empty-title", class: "empty-card" },
    h("h2", { id: "empty-title" }, "An empty plan"),
    h("p", {}, "Begin with the lot, or at once with the ground: the lawn, the house, the paving."),
    h(
      "div",
      { class: "acts" },
      h("button", { type: "button", class: "main", id: "empty-draw", onclick: ways.draw }, "Draw the lot"),
      h("button", { type: "button", id: "empty-tape", onclick: ways.tape }, "Draw by tape"),
      h("button", { type: "button", id: "empty-picture", onclick: ways.trace }, "Trace a picture"),
      h("button", { type: "button", id: "empty-outlines", onclick: () => file.click() }, "Bring in outlines"),
    ),
    h(
      "p",
      { class: "hint" },
      "Or look at ",
      h(
        "button",
        { type: "button", class: "link", id: "empty-demo", onclick: () => void openDemo(say) },
        "the demo",
      ),
      ", or make a plan from ",
      h("a", { href: "/#starts-title" }, "a typical yard"),
      ".",
    ),
    file,
    problem,
  );
  block.addEventListener("pointerdown", (e) => e.stopPropagation());
  const show = (): void => {
    const p = board.plan;
    const bare = allThings(p).length === 0 && !p.underlay;
    const drawing = board.tool !== "select" && board.tool !== "tool.select";
    const want = bare && !drawing && !board.earlier;
    if (want === !el.hidden) return;
    el.hidden = !want;
    if (want) el.replaceChildren(block);
    else el.replaceChildren();
  };
  board.subscribe("plan", show);
  board.subscribe("tool", show);
  show();
}

const areas = (board: Board): Ref[] => ids(board.plan, "areas").map((id): Ref => `areas/${id}`);

/** A chooser for a file of outlines; the button beside it opens it. */
function outlineFile(bring: (file: File) => Promise<void>): HTMLInputElement {
  const accept = ".geojson,.json,application/geo+json";
  const input = h("input", {
    type: "file",
    id: "empty-file",
    accept,
    hidden: true,
    "aria-label": "Outlines from a map",
  });
  input.addEventListener("change", () => {
    const [chosen] = input.files ?? [];
    input.value = ""; // so that the same file can be chosen again once it is mended
    if (chosen) void bring(chosen);
  });
  return input;
}

/** Opens the demo plan in place of this one, which stays in the list. */
async function openDemo(say: (sentence: string) => void): Promise<void> {
  const demo = await server.demo();
  if (demo.ok) location.assign(`/plans/${encodeURIComponent(demo.value.id)}`);
  else say(demo.error);
}

const seen = (id: string): string => `evenfall-demo-note ${id}`;

/** What the demo says when it opens, until it is dismissed. */
export function showDemoNote(board: Board): void {
  if (document.body.dataset.demo === undefined || localStorage.getItem(seen(board.id))) return;
  const more = h("details", {}, h("summary", { class: "note-title" }, "Two honest mistakes"));
  const note = h("aside", { class: "note", "aria-label": "About the demo" }, more);
  const close = (): void => {
    localStorage.setItem(seen(board.id), "yes");
    note.remove();
  };
  const go = (id: string): void => {
    board.select([`heads/${id}`]);
    board.lookAt({ about: [`heads/${id}`] });
    byID("tab-selected").click(); // the note speaks of what is to be changed there
  };
  const tagged = (tag: string): string | undefined =>
    ids(board.plan, "heads").find((id) => board.plan.heads?.[id]?.tag === tag);
  const show = (tag: string): HTMLElement =>
    h(
      "button",
      { type: "button", class: "small", onclick: () => ((id) => id && go(id))(tagged(tag)) },
      `Show ${tag}`,
    );
  more.append(
    h(
      "p",
      {},
      "Head 2-8 stands at 56, 24: the tape was read from the wrong corner. Drag it 12 ft west, back to 44, 24, and watch the dry patch close. The finding, which goes by the heads beside it, says about 14 ft; anywhere from 11 to 14 ft closes it. ",
      show("2-8"),
    ),
    h(
      "p",
      {},
      "Heads 2-3 and 2-4 are sprays left over from another job, on a valve of streams. Give both a stream nozzle under Selected. ",
      show("2-3"),
    ),
    h("p", { class: "acts" }, h("button", { type: "button", onclick: close }, "Understood")),
  );
  byID("findings").prepend(note);
}
