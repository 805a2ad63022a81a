/* What answers leave of a trouble, and what comes next: the twin of generator/benchleaf/isolation/decisions.py.

   A table holds causes with weights, tests with the share of each cause in each outcome, remedies with the causes they cure,
   conditions of the machine with what everything takes from there, and what to do in every state it was asked about. What is
   left after an answer is worked out here; what comes next is looked up. A state that is not in the table is decided by the
   table's rule: one test ahead over likelihood over cost. */
"use strict";
(function () {
  const WHOLE = 1e-9;
  const FORM = 1;

  class Table {
    constructor(read) {
      if (read.form !== FORM) {
        throw new Error("the table is of form " + read.form + ", not " + FORM);
      }
      this.read = read;
      this.everything = (1n << BigInt(read.causes.length)) - 1n;
      this.weights = read.causes.map((cause) => cause[2]);
      this.fixes = read.remedies.map((remedy) => fromBase36(remedy.fixes));
      this.masks = read.tests.map((test) => test.shares.map((row) => row.reduce((mask, share, j) => (share > 0 ? mask | (1n << BigInt(j)) : mask), 0n)));
      this.testPlace = new Map(read.tests.map((test, t) => [test.id, t]));
      this.remedyPlace = new Map(read.remedies.map((remedy, r) => [remedy.id, r]));
    }

    start() {
      return { causes: this.everything, answers: [], condition: 0, barred: [] };
    }

    /* Whether a test answers differently for some two of the causes. */
    tells(test, causes) {
      const left = bits(causes);
      return this.read.tests[test].shares.some((row) => left.some((j) => Math.abs(row[j] - row[left[0]]) > WHOLE));
    }

    /* The answers that still matter, and the factor by which the others had changed every weight. */
    settled(causes, answers) {
      const kept = [];
      let factor = 1;
      if (causes === 0n) {
        return [kept, factor];
      }
      const first = bits(causes)[0];
      for (const [test, outcome] of answers) {
        if (this.tells(test, causes)) {
          kept.push([test, outcome]);
        } else {
          factor *= this.read.tests[test].shares[outcome][first];
        }
      }
      return [kept, factor];
    }

    moment(causes, answers, condition, barred) {
      const kept = this.settled(causes, answers)[0];
      const done = new Set(kept.map((one) => one[0]));
      const left = Array.from(new Set(barred)).sort((a, b) => a - b);
      return { causes: causes, answers: kept, condition: condition, barred: left.filter((t) => causes !== 0n && !done.has(t) && this.tells(t, causes)) };
    }

    afterTest(moment, test, outcome) {
      const condition = this.read.conditions[moment.condition].tests[test][1];
      const causes = outcome < 0 ? 0n : moment.causes & this.masks[test][outcome];
      let answers = moment.answers;
      if (!this.read.tests[test].sharp && outcome >= 0) {
        answers = answers.filter((one) => one[0] !== test).concat([[test, outcome]]).sort((a, b) => a[0] - b[0] || a[1] - b[1]);
      }
      return this.moment(causes, answers, condition, moment.barred);
    }

    afterRemedy(moment, remedy) {
      const condition = this.read.conditions[moment.condition].remedies[remedy][1];
      return this.moment(moment.causes & ~this.fixes[remedy], moment.answers, condition, moment.barred);
    }

    withoutTest(moment, test) {
      return this.moment(moment.causes, moment.answers, moment.condition, moment.barred.concat([test]));
    }

    /* The tests that can be done and would still tell something. */
    telling(moment) {
      const done = new Set(moment.answers.map((one) => one[0]).concat(moment.barred));
      return this.read.tests.map((_, t) => t).filter((t) => moment.causes !== 0n && !done.has(t) && this.tells(t, moment.causes));
    }

    weightsAfter(answers) {
      let weights = this.weights;
      for (const [test, outcome] of answers) {
        const row = this.read.tests[test].shares[outcome];
        weights = weights.map((weight, j) => weight * row[j]);
      }
      return weights;
    }

    /* Each cause left with its probability, most likely first: [place, probability]. */
    posterior(moment) {
      const weights = this.weightsAfter(moment.answers);
      const left = bits(moment.causes);
      const whole = sum(left.map((j) => weights[j]));
      return left.map((j) => [j, weights[j] / whole]).sort((a, b) => b[1] - a[1] || a[0] - b[0]);
    }

    key(moment) {
      return moment.causes.toString(36) + "|" + moment.answers.map((one) => one.join(".")).join(",") + "|" + moment.condition + "|" + moment.barred.join(",");
    }

    /* What to do: {kind, place, expected, exact, known}; known is false when the rule decided. */
    decide(moment) {
      if (moment.causes === 0n) {
        return { kind: "none", place: 0, expected: 0, exact: true, known: true };
      }
      const found = this.read.states[this.key(moment)];
      if (found) {
        return { kind: ["none", "test", "remedy"][found[0]], place: found[1], expected: found[2], exact: found[3] === 1, known: true };
      }
      return Object.assign(this.byRule(moment), { known: false });
    }

    byRule(moment) {
      const left = bits(moment.causes);
      const cures = (j) => this.fixes.map((fixed, r) => ((fixed >> BigInt(j)) & 1n ? r : -1)).filter((r) => r >= 0).join(",");
      const same = new Set(left.map(cures));
      if (same.size === 1 && !same.has("")) {
        const prices = this.read.conditions[moment.condition].remedies;
        const shared = cures(left[0]).split(",").map(Number);
        const place = shared.reduce((best, r) => (prices[r][0] < prices[best][0] ? r : best));
        return { kind: "remedy", place: place, expected: prices[place][0], exact: true };
      }
      const weights = this.weightsAfter(moment.answers);
      const weight = sum(left.map((j) => weights[j]));
      const choices = [];
      const row = this.row(moment);
      if (row.length) {
        choices.push([this.inARow(moment), 0, "remedy", row[0]]);
      }
      this.testActions(moment).forEach((action, i) => {
        const after = sum(action.branches.map(([factor, then]) => factor * this.inARow(then)));
        choices.push([action.minutes * weight + after, 1 + i, "test", action.test]);
      });
      if (!choices.length) {
        return { kind: "none", place: 0, expected: 0, exact: false };
      }
      const best = choices.sort((a, b) => a[0] - b[0] || a[1] - b[1])[0];
      return { kind: best[2], place: best[3], expected: best[0] / weight, exact: false };
    }

    /* Of tests with the same branches only the cheapest. */
    testActions(moment) {
      const found = new Map();
      for (const test of this.telling(moment)) {
        const [minutes, then] = this.read.conditions[moment.condition].tests[test];
        const branches = [];
        this.masks[test].forEach((mask, outcome) => {
          const causes = moment.causes & mask;
          if (causes !== 0n) {
            const more = this.read.tests[test].sharp ? moment.answers : moment.answers.concat([[test, outcome]]).sort((a, b) => a[0] - b[0] || a[1] - b[1]);
            const [kept, factor] = this.settled(causes, more);
            branches.push([factor, { causes: causes, answers: kept, condition: then, barred: moment.barred }]);
          }
        });
        const key = branches.map(([factor, after]) => factor + " " + this.key(after)).join(";");
        if (!found.has(key) || minutes < found.get(key).minutes) {
          found.set(key, { test: test, minutes: minutes, branches: branches });
        }
      }
      return Array.from(found.values());
    }

    /* The remedies in the order of likelihood over cost. */
    row(moment) {
      const weights = this.weightsAfter(moment.answers);
      const prices = this.read.conditions[moment.condition].remedies;
      const cured = this.fixes.map((fixed) => sum(bits(fixed & moment.causes).map((j) => weights[j])));
      const worth = (r) => (prices[r][0] > 0 ? cured[r] / prices[r][0] : Infinity);
      const useful = this.fixes.map((_, r) => r).filter((r) => (this.fixes[r] & moment.causes) !== 0n);
      return useful.sort((a, b) => (worth(a) === worth(b) ? a - b : worth(b) - worth(a)));
    }

    /* What repairs in that order, one after another, cost from a state, times its weight. */
    inARow(moment) {
      const weights = this.weightsAfter(moment.answers);
      let left = moment.causes;
      let condition = moment.condition;
      let paying = sum(bits(left).map((j) => weights[j]));
      let known = 0;
      for (const remedy of this.row(moment)) {
        const cured = this.fixes[remedy] & left;
        if (cured !== 0n) {
          const [minutes, then] = this.read.conditions[condition].remedies[remedy];
          condition = then;
          known += minutes * paying;
          paying -= sum(bits(cured).map((j) => weights[j]));
          left &= ~cured;
        }
      }
      return known;
    }

    /* The state after answers in the order they were given: {kind, id, outcome}. Answers nobody knows are left out. */
    after(answers) {
      let moment = this.start();
      for (const one of answers) {
        if (one.kind === "remedy") {
          const place = this.remedyPlace.get(one.id);
          moment = place === undefined ? moment : this.afterRemedy(moment, place);
          continue;
        }
        const test = this.testPlace.get(one.id);
        if (test === undefined) {
          continue;
        }
        if (one.kind === "cannot") {
          moment = this.withoutTest(moment, test);
          continue;
        }
        const outcome = this.read.tests[test].outcomes.find((found) => found[0] === one.outcome);
        moment = outcome === undefined ? moment : this.afterTest(moment, test, outcome[3]);
      }
      return moment;
    }
  }

  function bits(mask) {
    const found = [];
    for (let j = 0; mask > 0n; j += 1, mask >>= 1n) {
      if (mask & 1n) {
        found.push(j);
      }
    }
    return found;
  }

  const sum = (numbers) => numbers.reduce((total, one) => total + one, 0);

  function fromBase36(written) {
    let number = 0n;
    for (const digit of written) {
      number = number * 36n + BigInt(parseInt(digit, 36));
    }
    return number;
  }

  globalThis.benchleafFinderStates = { Table: Table };
})();
