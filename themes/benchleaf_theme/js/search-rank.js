// Which pages answer a query, in which order, by which line: the twin of generator/benchleaf/search/plan.py and
// ranking.py. The same sums in the same order, so that both sides agree to the last bit. One file for the two, since each
// further script costs a phone some milliseconds before the first key.
"use strict";
(function () {
  const { words, distance, WHOLE, LONGEST } = globalThis.benchleafSearch;
  const { limited, tokenise, asked, bases, familyPrefix, areForms, runsOf, joinRuns, hasDigit, endsIn } = words;

  // plan.py
  const [ANY, LONG_ONLY, PART] = [0, 1, 2];
  const FORM = 0.9;
  const SYNONYM = 0.7;
  const JOINED = 0.95;
  const SPLIT = 0.8;
  const COMPLETED = 0.7;
  const COMPLETED_KNOWN = 0.5;
  const CODE_COMPLETED = 0.7;
  const CODE_SPLIT = 0.8;
  const COMPLETIONS = 24;

  async function family(index, word) {
    const entry = await index.entry(word);
    const own = entry ? [{ entry, weight: 1.0, mode: ANY }] : [];
    if (hasDigit(word)) return own;
    for (const other of await index.beginning(familyPrefix(word))) {
      if (other.term !== word && areForms(word, other.term)) own.push({ entry: other, weight: FORM, mode: ANY });
    }
    return own;
  }

  async function completions(index, start, known) {
    if (start.length < 2) return [];
    const have = new Set(known.map((member) => member.entry.term)).add(start);
    const found = (await index.beginning(start)).filter((entry) => !have.has(entry.term));
    found.sort((a, b) => b.pages - a.pages || (a.term < b.term ? -1 : 1));
    return found.slice(0, COMPLETIONS).map((entry) => ({ entry, weight: 1.0, mode: PART }));
  }

  async function forWord(index, word, isLast) {
    const own = await family(index, word);
    const made = own.length ? [{ weight: 1.0, families: [own] }] : [];
    if (isLast) {
      const more = await completions(index, word, own);
      if (more.length) made.push({ weight: own.length ? COMPLETED_KNOWN : COMPLETED, families: [more] });
    }
    return made;
  }

  /** Whether a word is known by forms alone that share no word with it: "packags" and "packaging", say. */
  async function isDoubtful(index, word, known) {
    const terms = known.flatMap((one) => one.families.flat().map((member) => member.entry.term));
    if (!terms.length || !terms.every((term) => term !== word && areForms(word, term))) return false;
    for (const term of terms) {
      for (const base of bases(term)) {
        if (!bases(word).has(base)) continue;
        if (base === term || (base !== word && await index.entry(base))) return false;
      }
    }
    return true;
  }

  /** Of a word that stands nowhere as typed, the form nearest to it, or the word that one letter more would make. */
  function nearest(word, alternatives) {
    const entries = alternatives.flatMap((one) => one.families.flat().map((member) => member.entry));
    if (word.length < 4 || entries.some((entry) => entry.term === word)) return [];
    const near = entries
      .filter((entry) => areForms(word, entry.term) || entry.term.length === word.length + 1)
      .map((entry) => ({ entry, off: distance(entry.term, word) }));
    near.sort((a, b) => a.off - b.off || b.entry.pages - a.entry.pages || (a.entry.term < b.entry.term ? -1 : 1));
    if (!near.length) return [];
    return [{ weight: 1.0, families: [[{ entry: near[0].entry, weight: 1.0, mode: ANY }]], reading: 1 }];
  }

  async function forCode(index, code, isLast) {
    const made = [];
    const own = await family(index, code);
    if (own.length) made.push({ weight: 1.0, families: [own] });
    if (code.includes("-")) {
      const joined = await index.entry(code.replace(/-/g, ""));
      if (joined) made.push({ weight: JOINED, families: [[{ entry: joined, weight: 1.0, mode: LONG_ONLY }]] });
    }
    if (isLast || !made.length) {
      const more = await completions(index, code, own);
      if (more.length) made.push({ weight: CODE_COMPLETED, families: [more] });
    }
    const runs = runsOf(code);
    if (!made.length && runs.length > 1) {
      const parts = await Promise.all(runs.map((run) => family(index, run)));
      if (parts.every((part) => part.length)) made.push({ weight: CODE_SPLIT, families: parts });
    }
    return made;
  }

  function candidatesOf(terms) {
    if (terms.some(hasDigit)) {
      const found = [joinRuns(terms.flatMap((term) => runsOf(term)))];
      const length = /^([0-9]+(?:-[0-9]+)?)(mm)?$/.exec(terms[terms.length - 1]);
      if (terms.length === 2 && /^m[0-9]+(-[0-9]+)?$/.test(terms[0]) && length) found.push(terms[0] + "x" + length[1]);
      return found;
    }
    return terms.length === 2 ? [terms.join("")] : [];
  }

  async function windows(index, tokens, isOpen) {
    const wanted = [];
    for (let start = 0; start < tokens.length; start += 1) {
      for (let stop = start + 2; stop <= Math.min(start + 4, tokens.length); stop += 1) {
        if (tokens[stop - 1].start - tokens[stop - 2].end > 3) break;
        for (const candidate of candidatesOf(tokens.slice(start, stop).map((token) => token.term))) {
          wanted.push(forWindow(index, candidate, isOpen && stop === tokens.length).then((made) => ({ start, stop, made })));
        }
      }
    }
    return Promise.all(wanted);
  }

  async function forWindow(index, candidate, isLast) {
    const own = await family(index, candidate);
    const made = own.length ? [{ weight: hasDigit(candidate) ? 1.0 : JOINED, families: [own] }] : [];
    if (isLast && !own.length) {
      const more = await completions(index, candidate, own);
      if (more.length) made.push({ weight: CODE_COMPLETED, families: [more] });
    }
    return made;
  }

  function synonymKeys(index) {
    if (!index.synonymKeys) {
      index.synonymKeys = new Map();
      for (const text of Object.keys(index.root.synonyms)) {
        const key = text.split(" ");
        for (const base of bases(key[0])) {
          if (!index.synonymKeys.has(base)) index.synonymKeys.set(base, []);
          index.synonymKeys.get(base).push(key);
        }
      }
    }
    return index.synonymKeys;
  }

  async function synonyms(index, tokens) {
    const keys = synonymKeys(index);
    const taken = tokens.map(() => false);
    const wanted = [];
    for (const length of [4, 3, 2, 1]) {
      for (let start = 0; start + length <= tokens.length; start += 1) {
        if (taken.slice(start, start + length).some(Boolean)) continue;
        const window = tokens.slice(start, start + length).map((token) => token.term);
        const matches = new Set();
        for (const base of bases(window[0])) {
          for (const key of keys.get(base) || []) {
            if (key.length === length && key.every((word, at) => areForms(word, window[at]))) matches.add(key.join(" "));
          }
        }
        for (const key of Array.from(matches).sort()) {
          for (const phrase of index.root.synonyms[key]) {
            wanted.push(Promise.all(phrase.split(" ").map((word) => family(index, word))).then((families) => ({
              start, stop: start + length, made: families.every((one) => one.length) ? [{ weight: SYNONYM, families }] : [],
            })));
          }
          taken.fill(true, start, start + length);
        }
      }
    }
    return Promise.all(wanted);
  }

  async function guessed(index, word, typed, made) {
    if (word.length < 4 || word.length > LONGEST) return [];
    const { best, joint } = await index.guess(word);
    const alternatives = [];
    const readAs = [];
    const families = await Promise.all(best.map((guess) => family(index, guess.word)));
    const isSingle = made.slots.length === 1;
    best.forEach((guess, at) => {
      alternatives.push({
        weight: 0.95 - 0.4 * guess.cost / (2 * WHOLE),
        families: [isSingle ? families[at].slice(0, 1) : families[at]],
        reading: isSingle ? at + 1 : 0,
      });
      readAs.push(guess.word);
    });
    if (joint && (!best.length || best[0].cost > WHOLE / 2)) {
      alternatives.push({
        weight: SPLIT, families: await Promise.all(joint.map((part) => family(index, part))), reading: isSingle ? 1 : 0,
      });
      readAs.unshift(joint.join(" "));
    }
    if (readAs.length) made.readAs.push([typed, readAs]);
    return alternatives;
  }

  const STOP = new WeakMap();
  const stopWords = (index) => {
    if (!STOP.has(index)) STOP.set(index, new Set(index.root.stopWords));
    return STOP.get(index);
  };

  /** What a query asks for: {slots, readAs, unknown}. */
  async function plan(index, query) {
    const text = limited(query);
    const all = asked(query);
    const kept = all.filter((token) => !stopWords(index).has(token.term));
    const tokens = kept.length ? kept : all;
    const isOpen = tokens.length > 0 && tokens[tokens.length - 1].end === text.length;
    const made = { slots: [], readAs: [], unknown: [] };
    const [own, joined, others] = await Promise.all([
      Promise.all(tokens.map((token, at) => {
        const isLast = isOpen && at === tokens.length - 1;
        return (token.kind === "code" ? forCode : forWord)(index, token.term, isLast);
      })),
      windows(index, tokens, isOpen),
      synonyms(index, tokens),
    ]);
    made.slots = tokens.map((token, at) => ({
      typed: text.slice(token.start, token.end), alternatives: own[at], own: own[at].length,
    }));
    for (const { start, stop, made: more } of joined.concat(others)) {
      for (let at = start; at < stop; at += 1) made.slots[at].alternatives.push(...more);
    }
    for (let at = 0; at < tokens.length; at += 1) {
      const slot = made.slots[at];
      const { term, kind } = tokens[at];
      let known = slot.alternatives.slice(0, slot.own);
      if (kind === "word" && (!slot.alternatives.length || await isDoubtful(index, term, known))) {
        const more = await guessed(index, term, slot.typed, made);
        slot.alternatives.push(...more);
        if (more.length) known = [];
      }
      if (kind === "word" && tokens.length === 1) slot.alternatives.push(...nearest(term, known));
      if (!slot.alternatives.length) made.unknown.push(slot.typed);
    }
    return made;
  }

  // ranking.py
  const MOST = 50;
  const STEPS = 8;
  const [BODY, TITLE, ABOUT, SHORT, ABOUT_TITLE] = [0, 1, 2, 3, 4];
  const BASE = { [BODY]: 0.0, [TITLE]: 0.5, [ABOUT]: 0.9, [SHORT]: 0.5, [ABOUT_TITLE]: 1.2 };
  const SPAN = { [BODY]: 1.0, [TITLE]: 0.75, [ABOUT]: 0.5, [SHORT]: 0.3, [ABOUT_TITLE]: 0.5 };
  const GAINS = Array.from({ length: 5 * STEPS }, (_, level) => {
    const kind = Math.floor(level / STEPS);
    return BASE[kind] + SPAN[kind] * (level % STEPS + 1) / STEPS;
  });
  const EXACT = 1000.0;
  const ALIAS = 500.0;
  const READING = 100.0;
  const FIRST_READING = 10.0;
  const TITLE_BONUS = 1.0;
  const SHORT_IS_SURE = 4;

  /** Weights page by page; the arrays are used again for the next query. */
  class Pool {
    constructor(pages) {
      this.pages = pages;
      this.free = [];
    }

    take() {
      const one = this.free.pop() || {
        weight: new Float64Array(this.pages), title: new Float64Array(this.pages), exact: new Float64Array(this.pages),
      };
      one.list = [];
      return one;
    }

    give(one) {
      for (const page of one.list) {
        one.weight[page] = 0;
        one.title[page] = 0;
        one.exact[page] = 0;
      }
      this.free.push(one);
    }
  }

  function rarity(pages, found) {
    let ratio = (pages + 1.0) / found;
    let whole = 0.0;
    while (ratio >= 2.0) {
      ratio /= 2.0;
      whole += 1.0;
    }
    return whole + (ratio - 1.0) + 0.5;
  }

  function ofFamily(index, members, isSingle, pool) {
    const part = pool.take();
    for (const member of members) {
      const { term } = member.entry;
      const isCode = member.weight === 1.0 && member.mode !== PART && (isSingle || hasDigit(term));
      const isSure = isSingle || term.length >= SHORT_IS_SURE;
      index.postings(member.entry, (page, level) => {
        const kind = level >> 3;
        if (kind === SHORT && member.mode === LONG_ONLY) return;
        const weight = member.weight * GAINS[level];
        if (part.weight[page] === 0) part.list.push(page);
        if (weight > part.weight[page]) part.weight[page] = weight;
        if ((kind === TITLE || kind === ABOUT_TITLE) && member.weight > part.title[page]) part.title[page] = member.weight;
        if (isCode && (kind === ABOUT || kind === ABOUT_TITLE || (kind === SHORT && isSure))) {
          const adds = kind === SHORT || member.mode === LONG_ONLY ? ALIAS : EXACT;
          part.exact[page] = Math.max(adds, part.exact[page]);
        }
      });
    }
    return part;
  }

  function addAlternative(index, alternative, isSingle, one, pool) {
    const parts = alternative.families.map((members) => ofFamily(index, members, isSingle, pool));
    let best = -1;
    let bestWeight = 0.0;
    for (const page of parts[0].list) {
      let least = Infinity;
      let title = Infinity;
      for (const part of parts) {
        least = Math.min(least, part.weight[page]);
        title = Math.min(title, part.title[page]);
      }
      if (least === 0) continue;
      if (one.weight[page] === 0) one.list.push(page);
      const weight = alternative.weight * least;
      one.weight[page] = Math.max(weight, one.weight[page]);
      if (title > 0) one.title[page] = Math.max(alternative.weight * title, one.title[page]);
      if (parts.length === 1) one.exact[page] = Math.max(parts[0].exact[page], one.exact[page]);
      if (alternative.reading === 1) one.exact[page] = Math.max(FIRST_READING, one.exact[page]);
      if (weight > bestWeight || (weight === bestWeight && page < best)) {
        best = page;
        bestWeight = weight;
      }
    }
    if (alternative.reading && best >= 0) one.exact[best] = Math.max(READING - alternative.reading, one.exact[best]);
    parts.forEach((part) => pool.give(part));
  }

  function ofSlot(index, slot, isSingle, pool) {
    const one = pool.take();
    let own = 0;
    slot.alternatives.forEach((alternative, at) => {
      addAlternative(index, alternative, isSingle, one, pool);
      if (at + 1 === slot.own) own = one.list.length;
    });
    return { counts: one.list.length ? rarity(index.pages, own || one.list.length) : 0.0, one };
  }

  function passing(index, filters) {
    const { machine = "", variant = "", kind = "" } = filters || {};
    // what is for all variants of a machine is for the one looked for only if that machine has it; of no machine: for any
    const having = new Set(index.root.sorts.filter((sort) => sort[2].includes(variant)).map((sort) => sort[0]));
    const mayBe = (machineAt) => !index.root.machines[machineAt] || having.has(machineAt);
    return index.root.sorts.map(([machineAt, kindAt, variants]) => (
      (!machine || machine === index.root.machines[machineAt]) && (!kind || kind === index.root.kinds[kindAt]) &&
      (!variant || variants.includes(variant) || (!variants.length && mayBe(machineAt)))));
  }

  /** The best pages in order with their scores, and what is needed to show them. */
  async function rank(index, query, filters) {
    const made = await plan(index, query);
    const pool = index.pool || (index.pool = new Pool(index.pages));
    const isSingle = made.slots.length === 1;
    const slots = made.slots.map((slot) => ofSlot(index, slot, isSingle, pool));
    const found = slots.filter((slot) => slot.one.list.length);
    const passes = passing(index, filters);
    let whole = 0.0;
    for (const slot of found) whole += slot.counts;
    const seen = new Uint8Array(index.pages);
    const best = [];
    let total = 0;
    let hidden = 0;
    for (const { one: { list } } of found) {
      for (const page of list) {
        if (seen[page]) continue;
        seen[page] = 1;
        if (!passes[index.sorts[page]]) {
          hidden += 1;
          continue;
        }
        total += 1;
        put(best, { page, score: scoreOf(index, page, found, whole) });
      }
    }
    for (const one of best) {
      one.typed = made.slots.filter((slot, at) => slots[at].one.weight[one.page] > 0).map((slot) => slot.typed);
    }
    slots.forEach((slot) => pool.give(slot.one));
    return { best, total, hidden, readAs: made.readAs, unknown: made.unknown, marks: made.slots.map(marksOf) };
  }

  function scoreOf(index, page, found, whole) {
    let score = 0.0;
    let covered = 0.0;
    let inTitle = 0.0;
    let exact = 0.0;
    let titled = 0;
    for (const { counts, one } of found) {
      if (one.weight[page] === 0) continue;
      score += counts * one.weight[page];
      covered += counts;
      exact += one.exact[page];
      if (one.title[page] > 0) {
        inTitle += counts * one.title[page];
        titled += 1;
      }
    }
    const share = covered / whole;
    const full = Math.min(1.0, titled / index.titleLengths[page]);
    const match = score * share * share + TITLE_BONUS * inTitle * full * share;
    return match * index.weightOf(page) + exact;
  }

  const isBefore = (one, other) => one.score > other.score || (one.score === other.score && one.page < other.page);

  function put(best, one) {
    if (best.length === MOST && !isBefore(one, best[MOST - 1])) return;
    let at = best.length;
    while (at > 0 && isBefore(one, best[at - 1])) at -= 1;
    best.splice(at, 0, one);
    if (best.length > MOST) best.pop();
  }

  function marksOf(slot) {
    const terms = new Map();
    for (const alternative of slot.alternatives) {
      for (const members of alternative.families) {
        for (const member of members) {
          const weight = alternative.weight * member.weight;
          terms.set(member.entry.term, Math.max(weight, terms.get(member.entry.term) || 0.0));
        }
      }
    }
    return terms;
  }

  /** How well a token is what the slot looks for; a code also by its end, as it is found by it. */
  function markOf(token, slot) {
    if (token.kind !== "code" || slot.has(token.term)) return slot.get(token.term) || 0.0;
    let best = 0.0;
    for (const [term, weight] of slot) if (weight > best && hasDigit(term) && endsIn(token.term, term)) best = weight;
    return best;
  }

  /** A line cut up for showing, [text, isMarked] pairs, and how much of the query it shows. */
  function marked(line, marks) {
    const best = marks.map(() => 0.0);
    const pieces = [];
    let done = 0;
    for (const token of tokenise(line)) {
      let any = false;
      marks.forEach((slot, at) => {
        const weight = markOf(token, slot);
        if (weight > 0) any = true;
        if (weight > best[at]) best[at] = weight;
      });
      if (any && token.start >= done) {
        pieces.push([line.slice(done, token.start), false], [line.slice(token.start, token.end), true]);
        done = token.end;
      }
    }
    pieces.push([line.slice(done), false]);
    let value = 0.0;
    for (const weight of best) value += weight;
    return { pieces: pieces.filter((piece) => piece[0]), value };
  }

  /** What is shown of one ranked page, without its line. */
  async function hit(index, ranked, one) {
    const { url, title } = await index.page(one.page);
    return { url, title: marked(title, ranked.marks).pieces, ...index.sortOf(one.page), found: one.typed, score: one.score };
  }

  /** The line of a page that shows most of the query; none when no line kept shows any. */
  async function lineOf(index, ranked, one) {
    let best = [];
    let bestValue = 0.0;
    for (const line of await index.lines(one.page)) {
      const { pieces, value } = marked(line, ranked.marks);
      if (value > bestValue) {
        best = pieces;
        bestValue = value;
      }
    }
    return best;
  }

  /** The whole answer at once, as search() gives it in Python. */
  async function search(index, query, filters) {
    const ranked = await rank(index, query, filters);
    const hits = await Promise.all(ranked.best.map(async (one) => (
      { ...await hit(index, ranked, one), line: await lineOf(index, ranked, one) })));
    return { hits, total: ranked.total, hidden: ranked.hidden, readAs: ranked.readAs, unknown: ranked.unknown };
  }

  Object.assign(globalThis.benchleafSearch, { plan, rank, hit, lineOf, search });
})();
