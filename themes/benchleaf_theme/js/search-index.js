// Index files read in the page: the twin of generator/benchleaf/search/reader.py and spelling.py.
// A shard comes as <script src>, which works from a stick (file://) as from a server, under "script-src 'self'".
"use strict";
(function () {
  const alphabet = Array.from({ length: 95 }, (_, at) => String.fromCharCode(32 + at)).filter((c) => !'"\\'.includes(c));
  const LAST = 64;
  const MORE = alphabet.length - LAST;
  const values = new Uint8Array(128);
  alphabet.forEach((sign, value) => { values[sign.charCodeAt(0)] = value; });

  const RANGE_SHARDS = 4;
  const KEPT_PARSED = 16; // shards whose words stand ready; the others are parsed again when wanted
  const KEPT_LINES = 64;
  const KEPT_GUESSES = 12;

  // root.js may come along with the scripts (see bundle.py); then it is here before it is asked for.
  const early = new Map();
  const asked = new WeakMap(); // script element -> what it brought
  globalThis.benchleafShard = (name, data) => {
    if (asked.has(document.currentScript)) asked.set(document.currentScript, data);
    else early.set(new URL(name + ".js", document.currentScript.src).href, data);
  };

  /** A place in a text that numbers and words are read from. */
  class Cursor {
    constructor(text, at = 0) {
      this.text = text;
      this.at = at;
    }

    number() {
      const text = this.text;
      let rest = 0;
      let value = values[text.charCodeAt(this.at)];
      while (value >= LAST) {
        rest = rest * MORE + value - LAST + 1;
        this.at += 1;
        value = values[text.charCodeAt(this.at)];
      }
      this.at += 1;
      return rest * LAST + value;
    }

    take(length) {
      this.at += length;
      return this.text.slice(this.at - length, this.at);
    }

    frontCoded(before) {
      const shared = this.number();
      const length = this.number();
      return before.slice(0, shared) + this.take(length);
    }
  }

  const threeDigits = (number) => String(number).padStart(3, "0");

  /** The last place in sorted starts whose value is at most what is looked for. */
  function placeOf(starts, wanted) {
    let low = 0;
    let high = starts.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (starts[middle] <= wanted) low = middle + 1;
      else high = middle;
    }
    return low - 1;
  }

  class Index {
    constructor(base) {
      this.base = base;
      this.texts = new Map();
      this.linesKept = [];
      this.parsed = new Map();
      this.stations = new Map();
      this.guessed = new Map();
      this.table = null;
      this.synonymKeys = null;
    }

    /** One file of the index; asked for once, tried again after a failure. */
    load(name) {
      if (!this.texts.has(name)) {
        const coming = new Promise((resolve, reject) => {
          const script = document.createElement("script");
          const done = (act, value) => {
            script.remove();
            act(value);
          };
          asked.set(script, null);
          script.onload = () => (asked.get(script) === null
            ? done(reject, new Error("damaged " + name)) : done(resolve, asked.get(script)));
          script.onerror = () => done(reject, new Error("missing " + name));
          script.src = this.base + name + ".js" + (this.root ? "?" + this.root.content : "");
          document.head.append(script);
        });
        coming.catch(() => this.texts.delete(name));
        this.texts.set(name, coming);
        if (name.startsWith("lines")) this.linesKept.push(name);
        if (this.linesKept.length > KEPT_LINES) this.texts.delete(this.linesKept.shift());
      }
      return this.texts.get(name);
    }

    async open() {
      const root = early.get(this.base + "root.js") || await this.load("root");
      this.root = root;
      this.pages = root.pages;
      this.sorts = new Uint16Array(root.pages);
      const runs = new Cursor(root.runs);
      for (let page = 0; page < root.pages;) {
        const sort = runs.number();
        for (let left = runs.number(); left > 0; left -= 1, page += 1) this.sorts[page] = sort;
      }
      this.titleLengths = Uint8Array.from(root.titleLengths, (sign) => values[sign.charCodeAt(0)]);
      return this;
    }

    /** Words of a shard with the place of their lists; what was used last is kept. */
    async shard(number) {
      let entries = this.parsed.get(number);
      this.parsed.delete(number);
      if (!entries) {
        const text = await this.load("terms-" + threeDigits(number));
        entries = [];
        const cursor = new Cursor(text);
        let term = "";
        while (cursor.at < text.length) {
          term = cursor.frontCoded(term);
          const pages = cursor.number();
          if (pages === 1) {
            const start = cursor.at;
            cursor.number();
            cursor.number();
            entries.push({ term, pages, text, start, end: cursor.at });
          } else {
            const length = cursor.number();
            entries.push({ term, pages, text, start: cursor.at, end: cursor.at + length });
            cursor.at += length;
          }
        }
      }
      this.parsed.set(number, entries);
      if (this.parsed.size > KEPT_PARSED) this.parsed.delete(this.parsed.keys().next().value);
      return entries;
    }

    /** The words that begin so, in order. */
    async beginning(prefix) {
      const starts = this.root.terms;
      const first = Math.max(0, placeOf(starts, prefix));
      const wanted = [];
      for (let number = first; number < Math.min(first + RANGE_SHARDS, starts.length); number += 1) {
        if (number > first && !starts[number].startsWith(prefix)) break;
        wanted.push(this.shard(number));
      }
      const found = [];
      for (const entries of await Promise.all(wanted)) {
        for (let at = lowest(entries, prefix); at < entries.length && entries[at].term.startsWith(prefix); at += 1) {
          found.push(entries[at]);
        }
      }
      return found;
    }

    async entry(term) {
      const number = placeOf(this.root.terms, term);
      if (number < 0) return null;
      const entries = await this.shard(number);
      const at = lowest(entries, term);
      return at < entries.length && entries[at].term === term ? entries[at] : null;
    }

    /** Calls back with (page, level) for each page of a word. */
    postings(entry, give) {
      const cursor = new Cursor(entry.text, entry.start);
      if (entry.pages === 1) {
        const level = cursor.number();
        give(cursor.number(), level);
        return;
      }
      while (cursor.at < entry.end) {
        const level = cursor.number();
        let page = -1;
        for (let left = cursor.number(); left > 0; left -= 1) {
          page += cursor.number() + 1;
          give(page, level);
        }
      }
    }

    /** The spelling shards that may hold words beginning with one of the letters, in order. */
    spelling(letters) {
      const starts = this.root.spelling;
      const wanted = starts.map((start, at) => {
        const end = at + 1 < starts.length ? starts[at + 1][0] : "\uffff";
        return letters.some((letter) => start[0] <= letter && letter <= end) ? this.load("spelling-" + threeDigits(at)) : null;
      });
      return Promise.all(wanted.filter(Boolean));
    }

    /** What an unknown word may be. The latest are remembered: only the last word changes from key to key. */
    async guess(word) {
      const shards = await this.spelling(lettersNeeded(word));
      const found = this.guessed.get(word) || guesses(word, shards);
      this.guessed.delete(word);
      this.guessed.set(word, found);
      if (this.guessed.size > KEPT_GUESSES) this.guessed.delete(this.guessed.keys().next().value);
      return found;
    }

    async words() {
      if (!this.table) {
        const text = await this.load("words");
        this.table = text ? text.split("\n") : [];
      }
      return this.table;
    }

    /** Address and title of a page. The way there is remembered at every sixteenth page. */
    async page(number) {
      const shard = placeOf(this.root.pageStarts, number);
      const [words, text] = await Promise.all([this.words(), this.load("pages-" + threeDigits(shard))]);
      if (!this.stations.has(shard)) {
        const found = [];
        const cursor = new Cursor(text);
        let before = "";
        for (let at = 0; cursor.at < text.length; at += 1) {
          if (at % 16 === 0) found.push([before, cursor.at]);
          before = cursor.frontCoded(before);
          readLine(cursor, words, false);
        }
        this.stations.set(shard, found);
      }
      const place = number - this.root.pageStarts[shard];
      const station = this.stations.get(shard)[place >> 4];
      const cursor = new Cursor(text, station[1]);
      let url = station[0];
      let title = "";
      for (let at = place & ~15; at <= place; at += 1) {
        url = cursor.frontCoded(url);
        title = readLine(cursor, words, at === place);
      }
      return { url, title };
    }

    async lines(number) {
      const starts = this.root.lineStarts;
      const shard = placeOf(starts, number);
      const [words, text] = await Promise.all([this.words(), this.load("lines-" + threeDigits(shard))]);
      const cursor = new Cursor(text);
      let end = 0;
      for (let at = starts[shard]; at <= number; at += 1) {
        if (end) cursor.at = end;
        const length = cursor.number();
        end = cursor.at + length;
      }
      const found = [];
      while (cursor.at < end) found.push(readLine(cursor, words, true));
      return found;
    }

    weightOf(number) {
      return this.root.kindWeights[this.root.sorts[this.sorts[number]][1]];
    }

    sortOf(number) {
      const [machine, kind, variants] = this.root.sorts[this.sorts[number]];
      return { machine: this.root.machines[machine], kind: this.root.kinds[kind], variants };
    }
  }

  function lowest(entries, wanted) {
    let low = 0;
    let high = entries.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (entries[middle].term < wanted) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  /** The line at the cursor; when it is not wanted it is only passed over. */
  function readLine(cursor, words, isWanted) {
    const found = [];
    for (;;) {
      const code = cursor.number();
      if (code === 0) return isWanted ? found.join(" ") : "";
      if (code === 1) {
        const length = cursor.number();
        const word = cursor.take(length);
        if (isWanted) found.push(word);
      } else if (isWanted) found.push(words[code - 2]);
    }
  }

  // What an unknown word may be: weighted edit distance over the sorted words (see spelling.py).
  const WHOLE = 8;
  const DOUBLED = 4;
  const VOWEL = 5;
  const SWAPPED = 6;
  const ALIKE = 6;
  const FIRST = 4;
  const NEAR = 2;
  const MOST = 6;
  const pairs = ["ck", "cs", "cq", "kq", "sz", "gj", "mn", "bp", "dt", "gk", "fv", "vw"];
  const sounds = new Set(pairs.concat(pairs.map((pair) => pair[1] + pair[0])));
  const isVowel = (letter) => "aeiouy".includes(letter);
  const extra = (typed, at) => (at && typed[at] === typed[at - 1] ? DOUBLED : WHOLE);
  const instead = (letter, other) => ((isVowel(letter) && isVowel(other)) || sounds.has(letter + other) ? ALIKE : WHOLE);
  const LONGEST = 30;
  const BAND = 5; // no cheaper mistake than 4, no more than 16 in all: cells further off the diagonal cannot matter
  const limitFor = (length) => (length <= 5 ? 10 : length <= 7 ? 14 : 16);

  /** Costs between beginnings of a word and of what was typed; row by row, each row good for all words that begin so. */
  class Table {
    constructor(typed) {
      this.typed = typed;
      this.width = typed.length;
      this.rows = [new Uint16Array(this.width + 1)];
      this.extras = Array.from(typed, (_, at) => extra(typed, at) + (at === 0 ? FIRST : 0));
      this.extras.forEach((cost, at) => { this.rows[0][at + 1] = this.rows[0][at] + cost; });
    }

    /** Fills row depth + 1 for the letter at depth; returns its least cost. */
    fill(depth, letter, before) {
      const { typed, width, extras } = this;
      const above = this.rows[depth];
      const second = depth ? this.rows[depth - 1] : null;
      const row = this.rows[depth + 1] || (this.rows[depth + 1] = new Uint16Array(width + 1));
      const first = depth === 0 ? FIRST : 0;
      const missing = letter === before ? DOUBLED : isVowel(letter) ? VOWEL : WHOLE;
      row[0] = Math.min(above[0] + missing + first, 999);
      const from = Math.max(0, depth - BAND);
      const to = Math.min(width, depth + BAND + 1);
      if (from > 0) row[from] = 999;
      let least = from > 0 ? 999 : row[0];
      for (let at = from; at < to; at += 1) {
        const other = typed[at];
        const start = at === 0 ? first : 0;
        let cost = letter === other ? above[at] : above[at] + instead(letter, other) + start;
        const without = above[at + 1] + missing + start;
        const more = row[at] + extras[at] - (at === 0 && depth > 0 ? FIRST : 0);
        if (without < cost) cost = without;
        if (more < cost) cost = more;
        if (second && at && letter === typed[at - 1] && before === other && letter !== other) {
          cost = Math.min(cost, second[at - 1] + SWAPPED + (depth === 1 ? FIRST : 0));
        }
        row[at + 1] = cost;
        if (cost < least) least = cost;
      }
      if (to < width) row[to + 1] = 999;
      return least;
    }
  }

  function distance(word, typed) {
    const table = new Table(typed);
    for (let depth = 0; depth < word.length; depth += 1) table.fill(depth, word[depth], word[depth - 1]);
    return table.rows[word.length][typed.length];
  }

  const firstLetters = (typed) => Array.from(typed.slice(0, 2)).concat(
    Array.from(sounds).filter((pair) => pair[0] === typed[0]).map((pair) => pair[1]));
  const lettersNeeded = (typed) => firstLetters(typed).concat(Array.from(typed.slice(3, -2)));

  function guesses(typed, shards) {
    const limit = limitFor(typed.length);
    const width = typed.length;
    const table = new Table(typed);
    const firsts = new Set(firstLetters(typed));
    const found = [];
    const heads = new Map();
    const tails = new Map();
    for (const text of shards) {
      const cursor = new Cursor(text);
      let word = "";
      let dead = -1; // rows from here on are past the limit
      let good = 0; // rows that are worked out for the word at hand
      while (cursor.at < text.length) {
        const shared = cursor.number();
        word = word.slice(0, shared) + cursor.take(cursor.number());
        const common = cursor.number();
        good = Math.min(good, shared);
        if (word.length >= 3 && word.length <= width - 3) {
          if (typed.startsWith(word)) heads.set(word.length, common);
          if (typed.endsWith(word)) tails.set(width - word.length, common);
        }
        if (!firsts.has(word[0]) || (dead >= 0 && shared >= dead)) continue;
        dead = -1;
        if (Math.abs(word.length - width) > BAND) continue;
        while (good < word.length) {
          good += 1;
          if (table.fill(good - 1, word[good - 1], word[good - 2]) > limit) {
            dead = good;
            break;
          }
        }
        if (dead < 0 && word.length > 3 && table.rows[word.length][width] <= limit) {
          found.push({ word, cost: table.rows[word.length][width], common });
        }
      }
    }
    found.sort((a, b) => a.cost - b.cost || b.common - a.common || (a.word < b.word ? -1 : 1));
    const best = found.filter((guess) => guess.cost <= found[0].cost + NEAR).slice(0, MOST);
    let joint = null;
    let bestScore = -1;
    for (const cut of Array.from(heads.keys()).sort((a, b) => a - b)) {
      if (!tails.has(cut)) continue;
      const score = Math.min(heads.get(cut), tails.get(cut));
      if (score > bestScore) {
        bestScore = score;
        joint = [typed.slice(0, cut), typed.slice(cut)];
      }
    }
    return { best, joint };
  }

  const opened = new Map();

  /** The index below an address, opened once however often it is asked for. */
  function open(base) {
    if (!opened.has(base)) {
      const coming = new Index(base).open();
      opened.set(base, coming);
      coming.catch(() => opened.delete(base));
    }
    return opened.get(base);
  }

  Object.assign(globalThis.benchleafSearch, { open, Index, guesses, lettersNeeded, distance, WHOLE, LONGEST });
})();
