import assert from "node:assert/strict";
import { test } from "node:test";
import { fold, wanted } from "./planlist";

const plan = (name: string, place: number, archived = false) => ({ name, place, archived });
const plans = [
  plan("12 Elm Street", 0),
  plan("Müller, Großgarten", 1),
  plan("9 Elm Street", 2),
  plan("Café Élan", 3, true),
  plan("ELM court", 4),
];
const names = (find: string, sort: "changed" | "name" = "changed", archived = false) =>
  wanted(plans, { find, sort, archived }).map((p) => p.name);

test("row A31: a plan is found by its name whatever the accents and capitals", () => {
  assert.deepEqual(names("muller"), ["Müller, Großgarten"]);
  assert.deepEqual(names("MÜLLER"), ["Müller, Großgarten"]);
  assert.deepEqual(names("grossgarten"), ["Müller, Großgarten"]);
  assert.deepEqual(names("cafe elan", "changed", true), ["Café Élan"]);
  assert.deepEqual(names("elm"), ["ELM court", "12 Elm Street", "9 Elm Street"]); // beginning with it first
  assert.deepEqual(names("  street  elm "), ["12 Elm Street", "9 Elm Street"]); // every word, in any order
  assert.deepEqual(names("elm", "changed", true), []);
  assert.deepEqual(names(".*"), []); // letters, not a pattern
  assert.equal(fold("Ångström ﬁne"), "angstrom fine");
});

test("row A31: the list goes by last change, or by name with numbers as numbers", () => {
  assert.deepEqual(names(""), ["12 Elm Street", "Müller, Großgarten", "9 Elm Street", "ELM court"]);
  assert.deepEqual(names("", "name"), ["9 Elm Street", "12 Elm Street", "ELM court", "Müller, Großgarten"]);
});

test("row A31: a 2 is not the 2 of 12, and names that have the words whole and begin with them come first", () => {
  const yards = ["Back of yard 2", "Yard 12", "Yard 20", "Yard 2", "Yard two", "Court 2"].map((n, i) =>
    plan(n, i),
  );
  const find = (words: string) =>
    wanted(yards, { find: words, sort: "changed", archived: false }).map((p) => p.name);
  assert.deepEqual(find("yard 2"), ["Yard 2", "Back of yard 2", "Yard 20"]);
  assert.deepEqual(find("2 yard"), ["Back of yard 2", "Yard 2", "Yard 20"]);
  assert.deepEqual(find("2"), ["Back of yard 2", "Yard 2", "Court 2", "Yard 20"]);
  assert.deepEqual(find("ard 1"), ["Yard 12"]);
});
