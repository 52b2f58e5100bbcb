// What each command does, and when it cannot be done, why.

import type { Action, CommandID } from "./commands";
import type { Drawing } from "./drawing";
import { actionsOfFinding } from "./finderactions";
import { actionsOfMotion } from "./motionactions";
import { outlineNames } from "./names";
import { showArranging } from "./panels/arranging";
import { showBudget } from "./panels/budget";
import { showFigures } from "./panels/figures";
import { showGrouping } from "./panels/grouping";
import { showImproving } from "./panels/improving";
import { showKeys } from "./panels/keys";
import { showLayers } from "./panels/layers";
import { showLocalRules } from "./panels/localrules";
import { showParts } from "./panels/parts";
import { compareParts } from "./panels/partscompare";
import { showPicture } from "./panels/picture";
import { bringPrices } from "./panels/prices";
import { showAudit } from "./panels/proofbench";
import { askRates } from "./panels/rates";
import { showRouting } from "./panels/routing";
import { offerSizes } from "./panels/sizing";
import { showSupply } from "./panels/supply";
import { showTrenches } from "./panels/trenches";
import { showWatering } from "./panels/watering";
import { type PipesBy, pipesBy } from "./pipelook";
import { actionsOnShapes } from "./shapeactions";
import { tapeActions } from "./tapeactions";
import { actionsOnThings, chosen } from "./thingactions";
import type { ToolName } from "./tools/all";
import { inHand } from "./tools/built";
import type { OutlineKind } from "./tools/tool";
import { toPixel } from "./view";
import type { Circumstance } from "./whatif";
import { shutWhileLooking } from "./whilelooking";

/** The tools that draw an area of the kind in hand. */
const areaTools: ReadonlySet<string> = new Set<ToolName>(["outline", "rectangle", "round"]);

const kinds = Object.keys(outlineNames) as OutlineKind[];

const always = (run: () => void, on?: () => boolean): Action => ({
  enabled: () => true,
  run,
  ...(on ? { on } : {}),
});

export function actions(d: Drawing): Record<CommandID, Action> {
  return shutWhileLooking(() => d.board.earlier !== null, {
    ...tools(d),
    ...aids(d),
    ...views(d),
    ...waters(d),
    ...steps(d),
    ...proposers(d),
    ...actionsOnThings(d),
    ...actionsOnShapes(d),
    ...actionsOfMotion(d),
    ...actionsOfFinding(d),
  });
}

function tools(d: Drawing) {
  const tool = (name: ToolName): Action =>
    always(
      () => {
        d.takeUp(name);
        d.focus();
      },
      () => d.toolName === name,
    );
  return {
    "tool.select": tool("select"),
    "tool.outline": tool("outline"),
    "tool.rectangle": tool("rectangle"),
    "tool.round": tool("round"),
    "tool.barrier": tool("barrier"),
    "tool.tree": tool("tree"),
    "tool.keepdry": tool("keepdry"),
    "tool.note": tool("note"),
    "tool.head": tool("head"),
    "tool.tape": tool("tape"),
    "tool.height": tool("height"),
    "tool.fixture": tool("fixture"),
    "tool.pipe": tool("pipe"),
    "tool.sleeve": tool("sleeve"),
    "tool.wire": tool("wire"),
    "tool.picture": always(
      () => {
        if (d.board.plan.underlay) tool("picture").run();
        else showPicture();
      },
      () => d.toolName === "picture",
    ),
    "tool.measure": tool("measure"),
    "proof.cans": always(
      () => {
        d.board.layers.show("cans", true);
        tool("cans").run();
      },
      () => d.toolName === "cans",
    ),
    "proof.built": {
      enabled: () => {
        const r = inHand(d.board.plan, d.board.selection);
        return typeof r === "string" ? true : r.why;
      },
      on: () => d.toolName === "built",
      run: tool("built").run,
    },
    ...tapeActions(d),
    "draw.kind": always(() => {
      const areaKind = kinds[(kinds.indexOf(d.kit.areaKind) + 1) % kinds.length] as OutlineKind;
      d.setKit({ areaKind });
      d.board.announce(`Draws ${outlineNames[areaKind].toLowerCase()}.`);
    }),
    ...kindsToDraw(d),
    "draw.hole": always(
      () => {
        d.setKit({ asHole: !d.kit.asHole });
        d.board.announce(
          d.kit.asHole ? "The next outline is cut out as a hole." : "Outlines are areas again.",
        );
      },
      () => d.kit.asHole,
    ),
  } satisfies Partial<Record<CommandID, Action>>;
}

/** Each kind of area and of wall as a command, with the tool that draws it. */
function kindsToDraw(d: Drawing) {
  const area = (areaKind: OutlineKind): Action =>
    always(() => {
      d.setKit({ areaKind, asHole: false });
      if (!areaTools.has(d.toolName)) d.takeUp("outline");
      d.board.announce(`Draws ${outlineNames[areaKind].toLowerCase()}.`);
      d.focus();
    });
  const barrier = (barrierKind: string): Action =>
    always(() => {
      d.setKit({ barrierKind });
      d.takeUp("barrier");
      d.board.announce(`Draws a ${barrierKind}.`);
      d.focus();
    });
  return {
    "draw.planting": area("planting"),
    "draw.building": area("building"),
    "draw.paving": area("paving"),
    "draw.ground": area("ground"),
    "draw.right_of_way": area("right_of_way"),
    "draw.no_dig": area("no_dig"),
    "draw.water": area("water"),
    "draw.lot": area("lot"),
    "draw.fence": barrier("fence"),
    "draw.wall": barrier("wall"),
    "draw.hedge": barrier("hedge"),
  } satisfies Partial<Record<CommandID, Action>>;
}

function aids(d: Drawing) {
  const flag = (key: "snap" | "grid" | "gridSnap" | "ortho", name: string): Action =>
    always(
      () => {
        d.setAids({ [key]: !d.aids[key] });
        d.board.announce(`${name} ${d.aids[key] ? "on" : "off"}.`);
      },
      () => d.aids[key],
    );
  return {
    "aid.snap": flag("snap", "Snap"),
    "aid.grid": flag("grid", "Grid"),
    "aid.gridsnap": flag("gridSnap", "Snap to grid"),
    "aid.ortho": flag("ortho", "Square"),
  } satisfies Partial<Record<CommandID, Action>>;
}

function views(d: Drawing) {
  const about = () => (d.pointing.aim && !d.pointing.crosshair ? toPixel(d.view, d.pointing.aim.raw) : null);
  return {
    "view.in": always(() => d.looking.press(1, about())),
    "view.out": always(() => d.looking.press(-1, about())),
    "view.fit": {
      enabled: () => (d.content() ? true : "There is nothing drawn yet."),
      run: () => d.looking.fitPlan(),
    },
    "view.selection": {
      enabled: () => (d.board.selection.size > 0 ? true : "Select something first."),
      run: () => d.looking.fitThings(d.board.selection),
    },
    "view.wheel": always(
      () => {
        d.setAids({ wheel: d.aids.wheel === "zoom" ? "pan" : "zoom" });
        d.board.announce(d.aids.wheel === "pan" ? "The wheel moves the view." : "The wheel zooms.");
      },
      () => d.aids.wheel === "pan",
    ),
    "view.layers": always(showLayers),
    "view.contours": {
      enabled: () =>
        Object.keys(d.board.plan.elevations ?? {}).length >= 3
          ? true
          : "Set three spot heights first: the ground is drawn between them.",
      on: () => d.board.layers.shows("contours"),
      run: () => {
        const on = !d.board.layers.shows("contours");
        d.board.layers.show("contours", on);
        d.board.announce(`Contour lines ${on ? "shown" : "hidden"}.`);
      },
    },
    "plan.trenches": always(showTrenches),
    "view.trenches": always(
      () => {
        const on = !d.board.layers.shows("trenches");
        d.board.layers.show("trenches", on);
        d.board.announce(`Trenches ${on ? "shown" : "hidden"}.`);
      },
      () => d.board.layers.shows("trenches"),
    ),
    "view.pen": always(
      () => {
        const move = d.aids.fingers !== "move";
        d.setAids({ fingers: move ? "move" : "draw" });
        d.board.announce(move ? "Fingers only move the view." : "One finger draws.");
      },
      () => d.aids.fingers === "move",
    ),
    "plan.help": always(showKeys),
    "plan.supply": always(() => showSupply()),
  } satisfies Partial<Record<CommandID, Action>>;
}

/** The circumstances that map and readings are of. */
function waters(d: Drawing) {
  const water = (kind: Circumstance): Action => ({
    enabled: () => (d.board.whatIf ? true : "There is no map yet."),
    on: () => d.board.whatIf?.kind === kind,
    run: () => d.board.whatIf?.show(kind),
  });
  const pipes = (by: PipesBy): Action => ({
    enabled: () => (d.board.plan.pipes ? true : "There are no pipes yet."),
    on: () => d.board.pipeLook.by === by,
    run: () => {
      d.board.pipeLook.show(d.board.pipeLook.by === by ? "plain" : by);
      d.board.announce(`Pipes: ${pipesBy[d.board.pipeLook.by].toLowerCase()}.`);
    },
  });
  return {
    "water.drawn": water("drawn"),
    "water.running": water("running"),
    "view.velocity": pipes("velocity"),
    "view.pressure": pipes("pressure"),
    "plan.budget": always(showBudget),
    "pipe.size": {
      enabled: () => (d.board.plan.pipes ? true : "There are no pipes yet."),
      run: () => void offerSizes(d.board),
    },
    "water.field": water("field"),
    "water.windy": water("windy"),
    "plan.stop": {
      enabled: () => (d.board.longWork.works.length > 0 ? true : "Nothing is being worked out."),
      run: () => void d.board.longWork.stop(),
    },
  } satisfies Partial<Record<CommandID, Action>>;
}

/** What is sought on request and offered. */
function proposers(d: Drawing) {
  const planted = (): true | string =>
    Object.values(d.board.plan.areas ?? {}).some((a) => a.kind === "planting")
      ? true
      : "Draw a planting area first.";
  const headed = (): true | string =>
    Object.keys(d.board.plan.heads ?? {}).length > 0 ? true : "There are no heads yet.";
  return {
    "head.arrange": { enabled: planted, run: () => showArranging() },
    "head.improve": {
      enabled: () => (planted() === true ? headed() : planted()),
      run: () => showImproving(),
    },
    "zone.group": { enabled: headed, run: () => showGrouping() },
    "pipe.route": { enabled: headed, run: () => showRouting() },
    "plan.water": {
      enabled: () =>
        Object.keys(d.board.plan.zones ?? {}).length > 0 ? true : "Group the heads into zones first.",
      run: () => showWatering(),
    },
    "proof.audit": always(showAudit),
    "plan.yard": always(() => location.assign(`/plans/${encodeURIComponent(d.board.id)}/yard`)),
    "plan.rules": always(() => void showLocalRules(d.board)),
    "plan.figures": always(() => void showFigures(d.board, ["digging", "depth", "sleeve", "wire", "parts"])),
    "plan.parts": always(showParts),
    "plan.prices": always(() => void bringPrices(d.board)),
    "plan.rates": always(() => void askRates(d.board)),
    "plan.quote": always(() => location.assign(`/plans/${encodeURIComponent(d.board.id)}/quote`)),
    "plan.papers": always(() => location.assign(`/plans/${encodeURIComponent(d.board.id)}/papers`)),
    "plan.compare": always(() => void compareParts(d.board)),
  } satisfies Partial<Record<CommandID, Action>>;
}

/** Undo and redo, Enter and Escape: the tool is asked first. */
function steps(d: Drawing) {
  return {
    "edit.undo": {
      enabled: () => (d.tool.busy || d.board.undoLabel ? true : "Nothing to undo."),
      run: () => {
        if (!(d.tool.busy && d.tell({ type: "back" }))) void d.board.undo();
      },
    },
    "edit.redo": {
      enabled: () => (d.board.canRedo ? true : "Nothing to redo."),
      run: () => void d.board.redo(),
    },
    "plan.enter": always(() => enter(d)),
    "plan.finish": always(() => {
      d.tell({ type: "finish" });
      d.focus();
    }),
    "plan.back": always(() => back(d)),
  } satisfies Partial<Record<CommandID, Action>>;
}

/** With the crosshair, a click; else done; else the thing that has the focus is selected. */
function enter(d: Drawing): void {
  const aim = d.pointing.crosshair ? d.pointing.aim : null;
  if (aim) {
    d.tell({ type: "place", aim });
    return;
  }
  if (d.tell({ type: "finish" })) return;
  const focused = chosen(d);
  if (focused) d.board.select([focused], "toggle");
}

function back(d: Drawing): void {
  if (d.typing.open) d.typing.escape();
  else if (!d.tool.busy && d.board.longWork.works.length > 0) d.board.longWork.stop();
  else if (d.inHand && !d.tool.busy) d.hold(null);
  else if (!d.tell({ type: "escape" })) d.board.show(null);
}
