// The board: fetches the plan, then joins the state, the drawing, the live map
// and the panels.

import { planURL, server } from "./api";
import { loadCatalog } from "./catalogload";
import { type CommandID, tooltip } from "./commands";
import type { Design } from "./design";
import { byID, eachFrame, h, setAttr, stillOwed } from "./dom";
import { Drawing } from "./drawing";
import { Heat } from "./heat";
import { TabJournal } from "./journal";
import { Live, type MapFrame, type Socket } from "./live";
import { askLong } from "./longwork";
import { ArrangeForm } from "./panels/arranging";
import { Budget } from "./panels/budget";
import { showCircumstances } from "./panels/circumstances";
import { CopiesForm } from "./panels/copies";
import { showDemoNote, showEmpty } from "./panels/empty";
import { Findings } from "./panels/findings";
import { showFirstSteps } from "./panels/firststeps";
import { GroupForm } from "./panels/grouping";
import { History } from "./panels/history";
import { ImproveForm } from "./panels/improving";
import { showKeys } from "./panels/keys";
import { LayersPanel } from "./panels/layers";
import { bringBack } from "./panels/leftover";
import { Legend } from "./panels/legend";
import { sayNotComputed } from "./panels/notcomputed";
import { settleConflicts, showNotices } from "./panels/notice";
import { Objects } from "./panels/objects";
import { meetOtherTabs } from "./panels/othertab";
import { tableImport } from "./panels/owntables";
import { Parts } from "./panels/parts";
import { PicturePanel } from "./panels/picture";
import { showPipeKey } from "./panels/pipekey";
import { showLongWork } from "./panels/progress";
import { AuditForm } from "./panels/proofbench";
import { Readings } from "./panels/readings";
import { RouteForm } from "./panels/routing";
import { showSaved } from "./panels/saved";
import { Selected } from "./panels/selected";
import { planSettings } from "./panels/settings";
import { Signs } from "./panels/signs";
import { showPointer } from "./panels/status";
import { onSupplyPage, SupplyPage, showSupply } from "./panels/supply";
import { Tabs } from "./panels/tabs";
import { Toolbar } from "./panels/toolbar";
import { TrenchTables } from "./panels/trenches";
import { WaterForm } from "./panels/watering";
import { Zones } from "./panels/zones";
import { Photo } from "./photo";
import { followPrinting } from "./printing";
import { Board } from "./state";
import { firstAsked } from "./supply";
import { followTheme, theme, whenThemed } from "./theme";
import { pixel, toFeet, toPixel } from "./view";
import { type Answer, WhatIf } from "./whatif";

async function start(): Promise<void> {
  followTheme();
  const id = document.documentElement.dataset.plan ?? "";
  const stored = await server.load(id);
  if (!stored.ok) return showFailure(stored.error);
  const live = byID("live");
  const journal = new TabJournal(id);
  const board = new Board({
    id,
    ...stored.value,
    api: server,
    journal,
    onAnnounce: (text) => {
      live.textContent = "";
      requestAnimationFrame(() => {
        live.textContent = text;
      });
    },
  });
  board.layers.keepOn(localStorage, id);
  void loadCatalog(board);
  showBoard(board);
  void bringBack(board, journal);
  meetOtherTabs(id, (sentence) => {
    if (board.notice) board.announce(sentence);
    else board.show({ kind: "hint", sentence });
  });
}

function showFailure(sentence: string): void {
  const el = byID("notice");
  el.hidden = false;
  const again = h(
    "button",
    { type: "button", class: "small", onclick: () => location.reload() },
    "Try again",
  );
  el.replaceChildren(h("p", {}, "The plan could not be opened. ", sentence), again);
}

function showBoard(board: Board): void {
  const drawing = new Drawing(board, {
    board: byID("board"),
    svg: byID("scene") as unknown as SVGSVGElement,
    entry: byID("entry"),
    status: byID("status"),
  });
  const heat = new Heat(byID<HTMLCanvasElement>("heat"), theme());
  const legend = new Legend(heat, theme(), () => board.layers.show("water", !heat.on));
  const layered = (): void => {
    heat.toggle(board.layers.shows("water"));
    board.digs.by("layer", board.layers.shows("trenches"));
    legend.follow();
  };
  board.subscribe("layers", layered);
  layered();
  board.subscribe("design", () => legend.leavesOut(board.design?.lip ?? ""));
  whenThemed((t) => {
    heat.setTheme(t);
    legend.paint(t);
  });
  heat.follow(drawing.view);
  board.subscribe("view", () => heat.follow(drawing.view));
  otherwise(board, drawing, heat);
  showPanels(board, drawing, heat);
  connect(board, heat);
  hook(board, drawing);
}

/** The plan in the field and on a windy day, and the work that takes. */
function otherwise(board: Board, drawing: Drawing, heat: Heat): void {
  const whatIf = new WhatIf(board, {
    ask: (kind, rev, off, tell) => askLong<Answer>(`${planURL(board.id)}/${kind}?rev=${rev}`, off, tell),
    live: (as) => board.channel?.showAs?.(as),
    changed: () => board.emit("whatif"),
    say: (sentence) => board.show({ kind: "hint", sentence }),
  });
  board.whatIf = whatIf;
  for (const topic of ["plan", "design", "saved", "away", "earlier"] as const)
    board.subscribe(topic, () => whatIf.look());
  showCircumstances(board, heat, whatIf, (kind) => drawing.commands.get(`water.${kind}`));
  showPipeKey(board, (by) => drawing.commands.get(`view.${by}`));
  sayNotComputed(board);
  showLongWork(board.longWork, (sentence) => board.announce(sentence));
}

function showPanels(board: Board, drawing: Drawing, heat: Heat): void {
  showSaved(board);
  showNotices(board);
  settleConflicts(board);
  const settings = planSettings(board);
  new SupplyPage(board);
  new Readings(board, () => showSupply(firstAsked(board.plan)));
  new Findings(board, (field) => (onSupplyPage(field) ? showSupply(field) : settings.open(field)));
  new Selected(board, () => {
    drawing.setKit({ tapeMakes: "built", tapeWay: "tapes" });
    drawing.takeUp("tape");
    drawing.focus();
  });
  const side = new Tabs(byID("side"), false);
  const drawer = new Tabs(byID("drawer"), true, (panel) => {
    byID("drawer").toggleAttribute("data-open", panel !== null);
    // Where the page scrolls, the table opens below what is in view.
    if (panel) byID("drawer").scrollIntoView({ block: "nearest" });
    board.digs.by("tables", panel === "trenches");
    objects.open();
    trenches.open();
    void history.refresh();
    first();
  });
  const objects = new Objects(
    board,
    () => drawer.open === "objects",
    () => drawing.kit,
    drawing.commands,
  );
  const history = new History(board, () => drawer.open === "history");
  new Zones(board);
  new Signs(board);
  new Parts(board);
  new Budget(board);
  const trenches = new TrenchTables(board);
  new Toolbar(board, drawing);
  new CopiesForm(drawing);
  new ArrangeForm(drawing);
  new ImproveForm(drawing);
  new GroupForm(drawing);
  new RouteForm(drawing);
  new WaterForm(drawing);
  new AuditForm(drawing);
  new LayersPanel(board, drawing);
  const picture = new PicturePanel(board, drawing, new Photo(board, drawing, byID("heat")));
  showPointer(board, drawing, heat);
  tableImport(board);
  showEmpty(board, {
    draw: () => {
      drawing.setKit({ areaKind: "lot", asHole: false });
      drawing.commands.run("tool.outline", (why) => board.announce(why));
    },
    tape: () => drawing.commands.run("tool.tape", (why) => board.announce(why)),
    trace: () => picture.choose(),
  });
  showDemoNote(board);
  followPrinting(board, drawing);
  const first = showFirstSteps(board, drawing, () => showSupply(firstAsked(board.plan)));
  steps(board, drawing);
  menus();
  byID("print-page").addEventListener("click", () => window.print());
  byID("keys").addEventListener("click", showKeys);
  for (const button of document.querySelectorAll<HTMLElement>("[data-runs]")) {
    const command = drawing.commands.get(button.dataset.runs as CommandID);
    button.title = tooltip(command);
    button.addEventListener("click", () => drawing.commands.run(command.id, (why) => board.announce(why)));
  }
  fromElsewhere(board, drawing);
  board.subscribe("selection", () => {
    if (byID("side").contains(document.activeElement)) return; // at work there: nothing may move away
    if (board.selection.size > 0) side.show("selected");
    else if (side.open === "selected") side.show("findings");
  });
}

/** What another page of the plan sends here for: prices or rates of the quote, or the watering. */
function fromElsewhere(board: Board, drawing: Drawing): void {
  const wanted = ({ "#prices": "plan.prices", "#rates": "plan.rates", "#water": "plan.water" } as const)[
    location.hash
  ];
  if (!wanted) return;
  history.replaceState(null, "", location.pathname);
  drawing.commands.run(wanted, (why) => board.announce(why));
}

function steps(board: Board, drawing: Drawing): void {
  for (const which of ["undo", "redo"] as const) {
    const button = byID<HTMLButtonElement>(which);
    const command = drawing.commands.get(`edit.${which}`);
    button.addEventListener("click", () => drawing.commands.run(command.id, (why) => board.announce(why)));
    const show = (): void => {
      const label = which === "undo" ? board.undoLabel : board.redoLabel;
      const can = command.enabled();
      button.disabled = can !== true;
      button.title =
        can === true ? `${label ? `${command.title}: ${label}` : command.title} (${command.keys[0]})` : can;
    };
    for (const topic of ["steps", "tool", "plan", "earlier"] as const) board.subscribe(topic, show);
    show();
  }
  window.addEventListener("pagehide", () => board.flush());
  document.addEventListener("keydown", (e) => {
    if ((e.ctrlKey || e.metaKey) && e.key.toLowerCase() === "s") {
      e.preventDefault();
      board.flush();
      board.announce(board.saved.state === "yes" ? "Everything is saved." : "Saving now.");
    }
  });
}

/** Menus close when something else is pressed, or by Escape. */
function menus(): void {
  for (const menu of document.querySelectorAll<HTMLDetailsElement>("details.menu")) {
    const close = (e: Event): void => {
      if (!menu.contains(e.target as Node)) menu.open = false;
    };
    document.addEventListener("pointerdown", close);
    menu.querySelector("ul")?.addEventListener("click", () => {
      menu.open = false;
    });
    menu.addEventListener("focusout", (e) => {
      if (e.relatedTarget && !menu.contains(e.relatedTarget as Node)) menu.open = false;
    });
    menu.addEventListener("keydown", (e) => {
      if (e.key !== "Escape" || !menu.open) return;
      menu.open = false;
      menu.querySelector("summary")?.focus();
      e.stopPropagation();
    });
  }
}

/** Opens the live channel and paints what it brings. */
function connect(board: Board, heat: Heat): void {
  const url = new URL(`${planURL(board.id)}/live`, location.href);
  url.protocol = url.protocol === "https:" ? "wss:" : "ws:";
  const root = document.documentElement.dataset;
  const tell = eachFrame(() => board.emit("design"));
  board.subscribe("away", () => setAttr(document.body, "data-away", board.away));
  // The map is painted as it arrives, so that the next frame shows it; the
  // words follow with that frame.
  const paint = (f: MapFrame): void => {
    heat.paint();
    board.design = f.design;
    board.away = false; // figures and map are of what is drawn again
    tell();
    root.paintedSeq = String(f.seq);
    root.painted = String(f.rev);
  };
  const live = new Live(() => new WebSocket(url) as Socket, {
    frame: (f) => {
      heat.take(f);
      if (f.rev !== board.rev) return; // made of a plan this tab does not show
      paint(f);
    },
    pushed: (rev) => board.pushed(rev),
    refused: (sentence) => board.announce(sentence),
    opened: () => {
      board.flush();
    },
    closed: () => {
      board.away = true;
    },
  });
  board.channel = live;
  const digs = (): void => live.showDigs(board.digs.any);
  board.subscribe("digs", digs);
  digs();
  board.subscribe("saved", () => {
    if (board.saved.state === "yes") live.hurry();
  });
  live.show(board.rev, {});
  live.open();
  void firstReadings(board);
}

/** The figures by plain HTTP, in case the live channel takes its time. */
async function firstReadings(board: Board): Promise<void> {
  const answer = await server.board(board.id);
  if (!answer.ok || board.design) return;
  board.design = answer.value as Design;
  board.emit("design");
}

/** What browser tests hold on to. */
function hook(board: Board, drawing: Drawing): void {
  const corner = (): DOMRect => byID("board").getBoundingClientRect();
  Object.assign(window, {
    evenfall: {
      board,
      drawing,
      stillOwed: () => stillOwed() + board.turns,
      pixels: ([x, y]: [number, number]): [number, number] => {
        const { px, py } = toPixel(drawing.view, [x, y]);
        return [px + corner().left, py + corner().top];
      },
      feet: ([px, py]: [number, number]) =>
        toFeet(drawing.view, pixel(px - corner().left, py - corner().top)),
      get state() {
        return {
          plan: board.plan,
          rev: board.rev,
          selection: [...board.selection],
          tool: board.tool,
          saved: board.saved,
          design: board.design,
        };
      },
    },
  });
}

void start();
