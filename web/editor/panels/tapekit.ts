// What stands above the board for By tape, fixtures, trees and keep-dry points:
// what is found, how, and with which sizes.

import { h } from "../dom";
import type { Drawing } from "../drawing";
import type { Choice } from "../fields";
import { zoneChoices } from "../fields_heads";
import { sensorKinds } from "../fields_wiring";
import { lengthText } from "../format";
import { parseLength } from "../length";
import type { Kind } from "../model";
import { kindNames } from "../names";
import type { Board } from "../state";
import { fixtureNames, zoneForValve } from "../tools/standing";
import { makesNames, wayNames } from "../tools/tapestate";
import type { Kit, TapeMakes } from "../tools/tool";
import { sizeText, sizeTyped } from "../trunks";
import { Control } from "./control";
import { askFieldBook } from "./fieldbook";
import { pipeKit } from "./pipekit";
import { wiringKits } from "./wiringkit";

/** What is chosen beside one tool or several. */
export interface KitGroup {
  readonly tools: readonly string[];
  readonly el: HTMLElement;
  show(): void;
}

const choicesOf = (names: Readonly<Record<string, string>>): Choice[] =>
  Object.entries(names).map(([value, label]) => ({ value, label }));

export function standingKits(board: Board, drawing: Drawing): KitGroup[] {
  const choose = (label: string, key: keyof Kit): Control =>
    new Control(label, "choice", "", (v) => {
      drawing.setKit({ [key]: v });
      return null;
    });
  const show = (c: Control, value: string, choices: readonly Choice[]): void =>
    c.show({ value, mixed: false, choices });

  /** A length that things are drawn with, from least to most feet. */
  const size = (label: string, key: "rootZoneFt" | "keepDryFt", least: number, most: number): Control =>
    new Control(label, "text", "", (typed) => {
      const v = parseLength(typed, board.plan.show);
      if (!v.ok) return v.sentence;
      if (v.value < least || v.value > most) {
        const [lo, hi] = [lengthText(least, board.plan.show), lengthText(most, board.plan.show)];
        return `Type a length from ${lo} to ${hi}.`;
      }
      drawing.setKit({ [key]: v.value });
      return null;
    });

  function tape(): KitGroup {
    const way = choose("Way", "tapeWay");
    const makes = new Control("Makes", "choice", "", (v) => {
      const area = Object.hasOwn(kindNames, v);
      drawing.setKit(area ? { tapeMakes: "area", areaKind: v as Kind } : { tapeMakes: v as TapeMakes });
      return null;
    });
    const book = h(
      "button",
      { type: "button", onclick: () => void askFieldBook(board, drawing) },
      h("span", { class: "label" }, "Field book…"),
    );
    return {
      tools: ["tool.tape"],
      el: h("div", { class: "kit-group" }, way.el, makes.el, book),
      show: () => {
        const { tapeWay, tapeMakes, areaKind } = drawing.kit;
        show(way, tapeWay, choicesOf(wayNames));
        const kind = areaKind === "lot" ? "planting" : areaKind;
        show(makes, tapeMakes === "area" ? kind : tapeMakes, choicesOf({ ...kindNames, ...makesNames }));
        makes.el.hidden = tapeWay === "tie";
        book.hidden = tapeWay !== "along" && tapeWay !== "sides";
      },
    };
  }

  function fixture(): KitGroup {
    const what = choose("Fixture", "fixture");
    const zone = choose("Zone", "zone");
    const sensor = choose("Senses", "sensorKind");
    return {
      tools: ["tool.fixture"],
      el: h("div", { class: "kit-group" }, what.el, zone.el, sensor.el),
      show: () => {
        const { plan } = board;
        const { kit } = drawing;
        show(what, kit.fixture, choicesOf(fixtureNames));
        const zones = zoneChoices(plan);
        show(
          zone,
          zoneForValve({ plan, kit }) ?? "",
          zones.length > 0 ? zones : [{ value: "", label: "No zone yet" }],
        );
        show(
          sensor,
          kit.sensorKind,
          sensorKinds.map(([value, label]) => ({ value, label })),
        );
        zone.el.hidden = kit.fixture !== "valve";
        sensor.el.hidden = kit.fixture !== "sensor";
      },
    };
  }

  function tree(): KitGroup {
    const trunk = new Control("Trunk, across", "text", "", (typed) => {
      const v = sizeTyped(typed, board.plan.show);
      if (!v.ok) return v.sentence;
      drawing.setKit({ trunkIn: v.value });
      return null;
    });
    const roots = size("Root zone, from trunk", "rootZoneFt", 0.1, 200);
    return {
      tools: ["tool.tree"],
      el: h("div", { class: "kit-group" }, trunk.el, roots.el),
      show: () => {
        const unit = board.plan.show === "metric" ? "cm" : "in";
        show(trunk, `${sizeText(drawing.kit.trunkIn, board.plan.show)} ${unit}`, []);
        show(roots, lengthText(drawing.kit.rootZoneFt, board.plan.show), []);
      },
    };
  }

  function dry(): KitGroup {
    const radius = size("Radius", "keepDryFt", 0.1, 100);
    return {
      tools: ["tool.keepdry"],
      el: h("div", { class: "kit-group" }, radius.el),
      show: () => show(radius, lengthText(drawing.kit.keepDryFt, board.plan.show), []),
    };
  }

  return [tape(), fixture(), tree(), dry(), pipeKit(board, drawing), ...wiringKits(board, drawing)];
}
