// Adding sleeves, wire runs and fixtures by typing.

import { parseCorners, unbowed } from "../corners";
import { zoneChoices } from "../fields_heads";
import { sensorKinds, sleeveSizes } from "../fields_wiring";
import { usualKit } from "../kit";
import { parseCoordinate, type Read } from "../length";
import type { Vertex } from "../model";
import type { Board } from "../state";
import { sleeve, wireRun } from "../tools/made";
import { fixture, fixtureNames, zoneForValve } from "../tools/standing";
import type { Around, FixtureKind, Kit } from "../tools/tool";
import { sleeveLoads, sleeveMethods, wireLays } from "../wiringnames";
import { type Added, addMade, place, placeHint, spotOf } from "./adding";
import { type Asked, fillIn } from "./fillin";

const choices = (words: Readonly<Record<string, string>>) =>
  Object.entries(words).map(([value, label]) => ({ value, label }));

/** What a tool would look at, with this in hand. */
const around = (board: Board, kit: Partial<Kit>): Around => ({
  plan: board.committed,
  selection: board.selection,
  kit: { ...usualKit, ...kit },
  catalog: board.catalog,
  design: board.design,
});

export async function addSleeve(board: Board, added: Added): Promise<void> {
  const hint = placeHint(board);
  const check = (t: string): Read<unknown> => parseCoordinate(t, board.plan.show);
  const at = (key: string, label: string): Asked => ({ key, label, as: "text", hint, check });
  const a = await fillIn("Add a sleeve", "Add it", [
    at("x", "From x, east"),
    at("y", "From y, north"),
    at("tox", "To x, east"),
    at("toy", "To y, north"),
    { key: "carries", label: "Carries", as: "choice", value: "", choices: choices(sleeveLoads) },
    { key: "size", label: "Size", as: "choice", value: "", choices: sleeveSizes(board.plan, 0) },
    { key: "method", label: "Method", as: "choice", value: "", choices: choices(sleeveMethods) },
  ]);
  if (!a) return;
  const ends = [a, { x: a.tox ?? "", y: a.toy ?? "" }].map((e): Vertex => {
    const s = spotOf(board, e);
    return [s.x_ft, s.y_ft];
  });
  const kit = {
    sleeveCarries: (a.carries ?? "") as Kit["sleeveCarries"],
    sleeveSizeIn: Number(a.size ?? 0),
    sleeveMethod: (a.method ?? "") as Kit["sleeveMethod"],
  };
  addMade(board, sleeve(around(board, kit), ends), added);
}

export async function addWire(board: Board, added: Added): Promise<void> {
  const read = (t: string): Read<Vertex[]> => {
    const v = parseCorners(t, board.plan.show, 2);
    return v.ok ? unbowed(v.value, []) : v;
  };
  const a = await fillIn("Add a wire run", "Add it", [
    {
      key: "corners",
      label: "Corners",
      as: "long",
      hint: `one to a line: x, y in ${placeHint(board)}`,
      check: read,
    },
    { key: "lay", label: "Lies", as: "choice", value: "trench", choices: choices(wireLays) },
  ]);
  const line = a && read(a.corners ?? "");
  if (!a || !line?.ok) return;
  addMade(board, wireRun(around(board, { wireLay: a.lay as Kit["wireLay"] }), line.value), added);
}

/** The fixtures are of one place; a valve is asked its zone and a sensor what it senses. */
export async function addFixture(board: Board, added: Added): Promise<void> {
  const p = board.committed;
  const zones = zoneChoices(p);
  const zone = zoneForValve({ plan: p, kit: usualKit }) ?? "";
  const a = await fillIn("Add a fixture", "Add it", [
    { key: "fixture", label: "Fixture", as: "choice", value: "controller", choices: choices(fixtureNames) },
    ...place(board),
    {
      key: "zone",
      label: "Zone, of a valve",
      as: "choice",
      value: zone,
      choices: zones.length > 0 ? zones : [{ value: "", label: "No zone yet" }],
    },
    {
      key: "senses",
      label: "Senses, of a sensor",
      as: "choice",
      value: "rain",
      choices: sensorKinds.map(([value, label]) => ({ value, label })),
    },
  ]);
  if (!a) return;
  const kit = { fixture: a.fixture as FixtureKind, zone: a.zone ?? "", sensorKind: a.senses ?? "rain" };
  const s = spotOf(board, a);
  addMade(board, fixture(around(board, kit), [s.x_ft, s.y_ft]), added);
}
