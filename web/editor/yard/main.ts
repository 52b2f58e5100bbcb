// The page in the yard: fetches the plan, joins what is entered with what the server
// makes of it, and shows it in the place of the log.

import { ask as askServer, type Outcome, planURL, server } from "../api";
import { loadCatalog } from "../catalogload";
import { byID, h, stillOwed } from "../dom";
import { civilDate } from "../findings";
import { TabJournal } from "../journal";
import { askLong } from "../longwork";
import { count } from "../names";
import { bringBack } from "../panels/leftover";
import { settleConflicts } from "../panels/notice";
import { showSaved } from "../panels/saved";
import type { AuditView, CansView, ProofView, RetrofitView } from "../proofview";
import { Board } from "../state";
import { followTheme } from "../theme";
import { App } from "./app";
import { AsBuilt } from "./asbuilt";
import { Cans } from "./canlist";
import { Keeping } from "./keeping";
import { madeAgain } from "./leftover";
import { Nozzles } from "./nozzles";
import { OldSystem } from "./oldsystem";
import { photosBy } from "./photobutton";
import { PhotoPost } from "./photopost";
import { Photos } from "./photos";
import { placeOf, Yard } from "./session";
import { StartUp } from "./startup";
import { followSun } from "./sun";
import { BrowserKeeper, Scraps } from "./typed";
import { Wires } from "./wires";

const nameKept = "evenfall-yard-by";

/** How often it is looked whether somebody else changed the plan, in ms (chosen). */
const LOOK_MS = 20_000;

async function start(root: HTMLElement): Promise<void> {
  const id = root.dataset.yard ?? "";
  const stored = await server.load(id);
  if (!stored.ok) return showFailure(stored.error);
  const live = byID("live");
  const journal = new TabJournal(id, "strict");
  const keeping = new Keeping(server, stored.value.doc);
  const board = new Board({
    id,
    ...stored.value,
    api: keeping,
    journal,
    onAnnounce: (text) => {
      live.textContent = "";
      requestAnimationFrame(() => {
        live.textContent = text;
      });
    },
  });
  const keeper = new BrowserKeeper(id);
  const scraps = new Scraps(keeper);
  await scraps.bringBack();
  const yard = new Yard(board, asked(id), scraps, () => civilDate(new Date()));
  yard.place = placeOf(location.hash);
  yard.by = localStorage.getItem(nameKept) ?? "";
  yard.subscribe(() => localStorage.setItem(nameKept, yard.by));
  const post = new PhotoPost(yard, keeper);
  photosBy(post);
  show(root, yard, post);
  followOthers(yard, keeping);
  sayWhatIsBack(yard);
  void loadCatalog(board);
  void yard.refresh();
  void post.bringBack();
  void bringBack(board, journal, (kept) => {
    const made = madeAgain(board.committed, kept);
    for (const step of made ?? []) void board.commit(step.label, step.plan);
    return made === null ? null : made.length;
  });
}

function asked(id: string): ConstructorParameters<typeof Yard>[1] {
  const stopped = new AbortController().signal;
  return {
    proof: () => askServer<ProofView>("GET", `${planURL(id)}/proof`),
    audit: async (audit): Promise<Outcome<AuditView>> => {
      const url = `${planURL(id)}/audit?${new URLSearchParams({ audit })}`;
      const answer = await askLong<AuditView>(url, stopped, () => {});
      return answer ?? { ok: false, status: 0, error: "It was stopped. Look again.", problems: [] };
    },
    cans: (area, by, n) =>
      askServer<CansView>("GET", `${planURL(id)}/cans?${new URLSearchParams({ area, by, count: n })}`),
  };
}

function show(root: HTMLElement, yard: Yard, post: PhotoPost): void {
  const { board } = yard;
  const place = byID("yard");
  const head = root.querySelector("header");
  const acts = root.querySelector<HTMLElement>(".acts");
  const saved = h("p", { id: "saved", class: "saved", "data-state": "yes" });
  const extra = h("footer", { class: "yard-more" }, acts ?? null);
  byID("yard-log").hidden = true;
  place.hidden = false;
  document.body.classList.add("yard-on");
  head?.append(saved);
  followSun(document.querySelector<HTMLElement>(".bar-end") ?? (head as HTMLElement));
  new App(
    yard,
    [
      new StartUp(yard),
      new Wires(yard),
      new Nozzles(yard),
      new Cans(yard),
      new OldSystem(yard, (url, off, tell) => askLong<RetrofitView>(url, off, tell)),
      new Photos(yard, post),
      new AsBuilt(yard),
    ],
    place,
    extra,
  );
  showSaved(board);
  showNotices(board);
  settleConflicts(board);
  window.addEventListener("pagehide", () => board.flush());
  window.addEventListener("hashchange", () => yard.go(placeOf(location.hash)));
  Object.assign(window, { evenfall: { board, yard, post, stillOwed: () => stillOwed() + board.turns } }); // what browser tests hold on to
}

/** A sentence that has to be read stands over the work until it is dismissed. */
function showNotices(board: Board): void {
  const el = byID("notice");
  board.subscribe("notice", () => {
    const n = board.notice;
    el.hidden = n === null;
    if (!n) return;
    el.dataset.kind = n.kind;
    const more = (n.more ?? []).map((s) => h("li", {}, s));
    el.replaceChildren(
      h("div", {}, h("p", {}, n.sentence), more.length > 0 ? h("ul", {}, ...more) : null),
      h("button", { type: "button", onclick: () => board.show(null) }, "Dismiss"),
    );
    el.scrollIntoView({ block: "nearest" });
  });
}

/** What others do to the plan meanwhile comes in with the proof, and when the page is looked at again. */
function followOthers(yard: Yard, keeping: Keeping): void {
  const { board } = yard;
  board.subscribe("saved", () => {
    if (keeping.behind && board.saved.state === "yes") void board.reload();
  });
  setInterval(() => {
    if (!document.hidden && board.saved.state === "yes") void yard.refresh();
  }, LOOK_MS);
  document.addEventListener("visibilitychange", () => {
    if (document.hidden) return;
    board.flush();
    void yard.refresh();
  });
}

/** Says what was half typed when the page was left, with the way there. */
function sayWhatIsBack(yard: Yard): void {
  const { left } = yard.scraps;
  const [first] = left;
  if (!first) return;
  const what = left.length === 1 ? `${first.what}, “${first.text}”` : count(left.length, "field");
  const el = h("div", { id: "yard-back", class: "notice", "data-kind": "hint", role: "status" });
  const away = (): void => el.remove();
  const go = h(
    "button",
    {
      type: "button",
      onclick: () => {
        away();
        yard.go(placeOf(first.where));
      },
    },
    "Take me there",
  );
  const drop = h(
    "button",
    {
      type: "button",
      onclick: () => {
        away();
        yard.scraps.dropAll();
        yard.changed();
      },
    },
    "Forget it",
  );
  // Taken or typed over meanwhile: there is nothing to be taken to any more.
  yard.board.subscribe("saved", () => {
    if (!left.some((was) => yard.scraps.left.some((now) => now.where === was.where))) away();
  });
  byID("yard").before(el);
  el.append(
    h("p", {}, `You were typing when this page was left: ${what}. It is back in its place.`),
    h("span", { class: "acts" }, go, drop),
  );
}

function showFailure(sentence: string): void {
  const el = byID("notice");
  el.hidden = false;
  el.dataset.kind = "problem";
  const again = h("button", { type: "button", onclick: () => location.reload() }, "Try again");
  el.replaceChildren(h("p", {}, "The plan could not be opened. ", sentence), again);
}

followTheme();
const root = document.querySelector<HTMLElement>("[data-yard]");
if (root) void start(root);
