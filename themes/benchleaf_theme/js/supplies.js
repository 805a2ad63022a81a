/* Several things are dead at once: what do they share that nothing still working hangs on, and where to measure next.

   The twin of generator/benchleaf/troubles/common_path.py over the tables of supply_table.py. */
"use strict";
(function () {
  const FORM = 1;
  const ID = 0, WORDS = 1, PLACE = 2, SOURCE = 3, POWERED = 4, CONDUCTS = 5;
  const brought = new Map();

  /* What the machine's own script hands over: name → tables, one for each group of machines. */
  function bring(name, tables) {
    for (const table of tables) {
      if (table.form !== FORM) {
        throw new Error("the table is of form " + table.form + ", not " + FORM);
      }
    }
    brought.set(name, tables);
  }

  /* {suspects, split, untold} for names of dead and of working functions; nothing dead suspects nothing. */
  function commonPath(table, dead, working) {
    const chain = new Map(table.functions.map(([item, , links]) => [item, links.map((n) => table.links[n])]));
    const given = Array.from(new Set(dead)).filter((one) => chain.has(one));
    const others = Array.from(new Set(working)).filter((one) => chain.has(one));
    const told = given.filter((one) => chain.get(one).length);
    const untold = given.concat(others.filter((one) => !given.includes(one))).filter((one) => !chain.get(one).length);
    if (!told.length) {
      return { suspects: [], split: null, untold: untold };
    }
    const cleared = new Set(others.flatMap((one) => chain.get(one).map((link) => link[ID])));
    const all = told.map((one) => new Set(chain.get(one).map((link) => link[ID])));
    const suspects = chain.get(told[0]).filter((link) => all.every((ids) => ids.has(link[ID])) && !cleared.has(link[ID]));
    return { suspects: suspects, split: halfSplit(suspects), untold: untold };
  }

  /* The place that halves what is suspected; the earlier one where the halves cannot be equal. */
  function halfSplit(suspects) {
    const middle = suspects.length / 2;
    let cut = 0;
    for (let at = 1; at < suspects.length; at += 1) {
      if (suspects[at - 1][PLACE] && (!cut || Math.abs(at - middle) < Math.abs(cut - middle))) {
        cut = at;
      }
    }
    if (!cut) {
      return null;
    }
    const link = suspects[cut - 1];
    const before = suspects.slice(0, cut);
    const dead = before.every((one) => one[SOURCE] === link[SOURCE] && !one[POWERED]);
    return { link: link, before: before, beyond: suspects.slice(cut), dead: dead };
  }

  /* How the measurement that halves is taken, dead or powered, and what each reading means. */
  function splitWords(table, split) {
    const [start, nominal, back] = table.sources[split.link[SOURCE]];
    const deadTest = split.dead && split.link[CONDUCTS] ? "Dead and proved first: does it conduct to " + start + "?" : "A supply or driver lies before it: only power shows whether it does its part.";
    return [
      "Measure at " + split.link[PLACE] + ". " + deadTest,
      "Only as a powered test your shop has written: " + nominal + " against " + back + ", while it is asked to run.",
      "Good there: the fault lies beyond it, from " + split.beyond[0][WORDS] + " on. Nothing there: it lies before it, up to " + split.before[split.before.length - 1][WORDS] + ".",
    ];
  }

  globalThis.benchleafSupplies = { bring: bring, tables: (name) => brought.get(name) || [], commonPath: commonPath, splitWords: splitWords };
})();
