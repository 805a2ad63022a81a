// How text becomes words and codes: the twin of generator/benchleaf/search/words.py and codes.py.
// Both are held to tests/search/vectors.json; change one and the other has to follow.
"use strict";
(function () {
  const chunkPattern = /[\p{L}\p{N}]+(?:[-‐‑–−_.:,'’ʼ·⋅×][\p{L}\p{N}]+)*/gu;
  const joiner = /[-‐‑–−_.:,×]/u;
  const silent = /['’ʼ·⋅]/gu;
  const runPattern = /[0-9]+|(?:(?![0-9])[\p{L}\p{N}])+/gu;
  const onlyLetters = /^\p{L}+$/u;
  const onlyTokens = /^[\p{L}\p{N}]+$/u;
  const decimal = /^\p{Nd}$/u;
  const plain = { "μ": "u", "ω": "ohm", "ς": "σ", "ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "đ": "d", "ł": "l",
    "ı": "i", "×": "x" };

  const isDigits = (run) => run[0] >= "0" && run[0] <= "9";
  const hasDigit = (term) => /[0-9]/.test(term);
  const isDecimal = (sign) => decimal.test(sign);

  /** Composed accents, no soft hyphens, no stray halves of characters. */
  function normalise(text) {
    return Array.from(text, (sign) => (sign === "\u00ad" || /^[\ud800-\udfff]$/.test(sign) ? "" : sign))
      .join("").normalize("NFC");
  }

  function fold(text) {
    // eslint-disable-next-line no-control-regex
    if (/^[\x00-\x7f]*$/.test(text)) return text.toLowerCase();
    let made = "";
    for (const sign of text.normalize("NFKD").toLowerCase()) {
      if (sign.length > 1 || /\p{Mn}/u.test(sign)) continue;
      made += plain[sign] || sign;
    }
    return made;
  }

  const runsOf = (folded) => folded.match(runPattern) || [];

  function joinRuns(runs) {
    let made = "";
    runs.forEach((run, at) => {
      if (at && isDigits(runs[at - 1]) === isDigits(run)) made += "-";
      made += run;
    });
    return made;
  }

  const withoutZeros = (run) => run.replace(/^0+(?=.)/, "");

  /** Whether what was typed is the end of a code, from the beginning of one of its runs (see codes.py). */
  function endsIn(term, typed) {
    const join = typed.includes("-") ? joinRuns : (runs) => runs.join("");
    const runs = runsOf(term).map(withoutZeros);
    const wanted = join(runsOf(typed).map(withoutZeros));
    return runs.some((_, at) => join(runs.slice(at)) === wanted);
  }

  const canonical = (folded) => joinRuns(runsOf(folded));

  /** Chunks cut at a comma outside a number and at a dash between two numbers: [start, end] pairs. */
  function separate(text) {
    const found = [];
    for (const match of text.matchAll(chunkPattern)) {
      const end = match.index + match[0].length;
      let start = match.index;
      for (let at = start + 1; at < end - 1; at += 1) {
        if (text[at] !== "," && text[at] !== "–") continue;
        const between = isDecimal(text[at - 1]) && isDecimal(text[at + 1]);
        if (between === (text[at] === "–")) {
          found.push([start, at]);
          start = at + 1;
        }
      }
      found.push([start, end]);
    }
    return found;
  }

  /** The chunks, with the parts of a size such as "M3 × 8" brought together. */
  function chunks(text) {
    const made = [];
    for (const [start, end] of separate(text)) {
      const held = made[made.length - 1];
      if (held) {
        const gap = text.slice(held[1], start);
        const afterDigit = isDecimal(text[held[1] - 1]);
        const isTimes = gap.replace(/^ +| +$/g, "") === "×" && afterDigit && isDecimal(text[start]);
        const isLetter = gap === " " && /^[xX]$/.test(text.slice(start, end)) && afterDigit && text[end] === " " &&
          end + 1 < text.length && isDecimal(text[end + 1]);
        const isAfter = gap === " " && /^ [xX]$/.test(text.slice(held[1] - 2, held[1])) && held[1] - held[0] > 2;
        if (isTimes || isLetter || isAfter) {
          held[1] = end;
          continue;
        }
      }
      made.push([start, end]);
    }
    return made;
  }

  function partsOf(chunk) {
    const parts = [];
    let start = 0;
    for (let at = 0; at <= chunk.length; at += 1) {
      if (at === chunk.length || joiner.test(chunk[at])) {
        parts.push([chunk.slice(start, at), start]);
        start = at + 1;
      }
    }
    return parts;
  }

  /** Tokens {term, kind: word | code | extra, start, end} of normalised text. */
  function tokenise(text) {
    const tokens = [];
    for (const [begin, finish] of chunks(text)) {
      const chunk = text.slice(begin, finish).replace(/['’ʼ]s$/i, "");
      const put = (term, kind, start, end) => tokens.push({ term, kind, start: begin + start, end: begin + end });
      const folded = fold(chunk.replace(silent, ""));
      if (hasDigit(folded)) {
        let term = canonical(folded);
        if (/^m[0-9]+(-[0-9]+)?x[0-9]+(-[0-9]+)?mm$/.test(term)) term = term.slice(0, -2);
        put(term, "code", 0, chunk.length);
        for (const [part, start] of partsOf(chunk)) {
          const word = fold(part.replace(silent, ""));
          if (word.length >= 3 && onlyLetters.test(word) && word !== term) put(word, "extra", start, start + part.length);
        }
        continue;
      }
      const words = [];
      for (const [part, start] of partsOf(chunk)) {
        const word = fold(part.replace(silent, ""));
        if (onlyTokens.test(word)) {
          words.push(word);
          put(word, "word", start, start + part.length);
        }
      }
      if (words.length > 1) put(words.join(""), "extra", 0, chunk.length);
    }
    return tokens;
  }

  /** What a query asks for: its words and codes, twelve at most. */
  const limited = (query) => normalise(Array.from(query).slice(0, 200).join(""));
  const asked = (query) => tokenise(limited(query)).filter((token) => token.kind !== "extra").slice(0, 12);

  function verbs(stem) {
    if (!/[aeiouy]/.test(stem)) return [];
    const made = [stem, stem + "e"];
    if (stem.length > 3 && stem[stem.length - 1] === stem[stem.length - 2]) made.push(stem.slice(0, -1));
    return made;
  }

  const nounEndings = [["ations", 6, ["", "e", "ate"]], ["ation", 6, ["", "e", "ate"]], ["ions", 5, ["", "e"]],
    ["ion", 5, ["", "e"]], ["ments", 5, [""]], ["ment", 5, [""]], ["als", 5, ["", "e"]], ["al", 5, ["", "e"]]];
  const known = new Map();

  /** The words that a word may be a form of, itself among them: a Set. */
  function bases(word) {
    const before = known.get(word);
    if (before) return before;
    const made = new Set([word]);
    const add = (list) => list.forEach((one) => made.add(one));
    if (word.length >= 4 && /^[a-z]+$/.test(word)) {
      if (word.endsWith("ies") && word.length > 4) add([word.slice(0, -3) + "y", word.slice(0, -1)]);
      else if (word.endsWith("es")) {
        made.add(word.slice(0, -1));
        if ("sxzho".includes(word[word.length - 3])) made.add(word.slice(0, -2));
      } else if (word.endsWith("s") && !"sui".includes(word[word.length - 2])) made.add(word.slice(0, -1));
      for (const ending of ["ings", "ing", "ed"]) {
        if (word.endsWith(ending) && word.length - ending.length >= 3) {
          add(verbs(word.slice(0, -ending.length)));
          break;
        }
      }
      if (word.endsWith("ied") && word.length > 4) made.add(word.slice(0, -3) + "y");
      for (const [ending, least, after] of nounEndings) {
        const stem = word.slice(0, -ending.length);
        if (word.endsWith(ending) && stem.length >= least) {
          add(after.map((end) => stem + end));
          break;
        }
      }
    }
    if (known.size > 20000) known.clear();
    known.set(word, made);
    return made;
  }

  function familyPrefix(word) {
    let shortest = "";
    for (const base of Array.from(bases(word)).sort()) {
      if (!shortest || base.length < shortest.length) shortest = base;
    }
    const last = shortest[shortest.length - 1];
    return shortest.length > (last === "e" ? 3 : 2) && "eiy".includes(last) ? shortest.slice(0, -1) : shortest;
  }

  function areForms(one, other) {
    const these = bases(one);
    for (const base of bases(other)) if (these.has(base)) return true;
    return false;
  }

  globalThis.benchleafSearch = Object.assign(globalThis.benchleafSearch || {}, {
    words: { normalise, limited, fold, tokenise, asked, bases, familyPrefix, areForms, canonical, runsOf, joinRuns, hasDigit,
      endsIn },
  });
})();
