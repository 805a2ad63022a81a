// The search page: mounts on <div data-search data-base="…">, where data-base leads to the top of the manual.
// A form and a list of links, nothing a screen reader has to be taught. Found words are marked with <mark>; everything
// shown is put in as text, never as markup.
"use strict";
(function () {
  const { open, rank, hit, lineOf, words } = globalThis.benchleafSearch;
  const SHOWN = 5; // hits of one kind before "more"
  const SHOWN_BESIDE = 3; // the same where there are other kinds below
  const NEAR_CODES = 6;
  const LONGEST_LINE = 150; // signs of a line; of a longer one the part around the first mark is shown
  const EXACT = 1000;

  function make(name, attributes = {}, ...children) {
    const element = document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) {
      if (key.startsWith("on")) element.addEventListener(key.slice(2), value);
      else if (value === true) element.setAttribute(key, "");
      else if (value !== false && value !== null) element.setAttribute(key, value);
    }
    element.append(...children);
    return element;
  }

  const marked = (pieces) => pieces.map(([text, isMarked]) => (isMarked ? make("mark", {}, text) : text));
  const shapeOf = (code) => words.runsOf(code).map((run) => (words.hasDigit(run) ? "0" : "a")).join(""); // E-0417: a0
  const capital = (text) => text.charAt(0).toUpperCase() + text.slice(1);
  const pagesOf = (count) => (count === 1 ? "1 page" : count + " pages");
  const unique = (list) => Array.from(new Set(list));

  /** A long line cut down to what stands around its first mark. */
  function around(pieces) {
    const whole = pieces.map((piece) => piece[0]).join("");
    if (whole.length <= LONGEST_LINE) return pieces;
    const first = pieces[0][1] ? 0 : pieces[0][0].length;
    const near = Math.max(0, Math.min(first - LONGEST_LINE / 3, whole.length - LONGEST_LINE));
    const from = near ? whole.indexOf(" ", near) + 1 : 0;
    const to = from + LONGEST_LINE < whole.length ? whole.lastIndexOf(" ", from + LONGEST_LINE) : whole.length;
    const cut = [];
    let at = 0;
    for (const [text, isMarked] of pieces) {
      const kept = text.slice(Math.max(0, from - at), Math.max(0, to - at));
      if (kept) cut.push([kept, isMarked]);
      at += text.length;
    }
    return [...(from ? [["… ", false]] : []), ...cut, ...(to < whole.length ? [[" …", false]] : [])];
  }

  function mount(root) {
    const top = new URL(root.dataset.base || ".", document.baseURI);
    const index = open(new URL(root.dataset.index || "search/", top).href);
    const number = document.querySelectorAll("[data-search-words]").length;
    let ticket = 0;
    let latest = Promise.resolve();
    let later = 0; // when the address takes over what is asked: not at every key, since that is slow
    let isSure = false; // the first hit is the one page with the code that was typed

    const input = make("input", {
      id: "search-words-" + number, type: "search", "data-search-words": true, autocomplete: "off", autocapitalize: "off",
      spellcheck: "false", enterkeyhint: "search", "aria-describedby": "search-status-" + number,
    });
    const clear = make("button", { type: "button", class: "search-clear", hidden: true, onclick: () => ask("") }, "Clear");
    const status = make("p", { id: "search-status-" + number, role: "status", class: "search-status" });
    const filters = make("details", { class: "search-filters", hidden: true });
    const narrowed = make("summary", {}, "Narrow down");
    const results = make("div", { class: "search-results" });
    const again = make("button", { type: "button", class: "search-again", hidden: true, onclick: () => focusInput() }, "Search");
    const form = make("form", { role: "search", class: "search-form", onsubmit: enter },
      make("label", { for: input.id }, "Code, part number, contact or words"),
      make("div", { class: "search-field" }, input, clear));
    root.append(form, filters, status, results, again);
    if (!("quiet" in root.dataset)) input.focus({ preventScroll: true }); // at once: autofocus would lose the first keys

    const selects = {};
    index.then((ready) => buildFilters(ready)).catch(() => {});

    function buildFilters(ready) {
      const { machines, kinds, sorts } = ready.root;
      const variants = unique(sorts.flatMap((sort) => sort[2])).sort();
      filters.append(narrowed);
      for (const [name, label, values] of [["machine", "Machine", machines], ["variant", "Variant", variants],
        ["kind", "Kind of page", kinds]]) {
        const choices = values.filter(Boolean);
        if (choices.length < 2) continue;
        const select = make("select", { id: "search-" + name + "-" + number, onchange: () => ask(input.value) },
          make("option", { value: "" }, "All"), ...choices.map((value) => make("option", { value }, name === "kind" ? capital(value) : value)));
        if (choices.includes(root.dataset[name])) select.value = root.dataset[name];
        selects[name] = select;
        filters.append(make("div", {}, make("label", { for: select.id }, label), select));
        filters.hidden = false;
      }
      showNarrowed();
    }

    function chosen() {
      return Object.fromEntries(Object.entries(selects).map(([name, select]) => [name, select.value]));
    }

    function showNarrowed() {
      const values = Object.values(chosen()).filter(Boolean);
      narrowed.textContent = values.length ? "Narrowed to: " + values.join(", ") : "Narrow down";
    }

    function ask(query) {
      if (input.value !== query) input.value = query;
      latest = run(query).catch((problem) => {
        status.textContent = "The search index could not be read (" + problem.message +
          "). Load this page again; if that does not help, copy the whole manual again.";
      });
      return latest;
    }

    async function run(query) {
      const mine = ++ticket;
      isSure = false;
      clear.hidden = !query;
      root.classList.toggle("is-asking", Boolean(query));
      clearTimeout(later);
      later = setTimeout(remember, 400);
      showNarrowed();
      const ready = await index;
      if (mine !== ticket) return;
      if (!query.trim()) {
        status.textContent = "";
        again.hidden = true;
        results.replaceChildren(...recent(top), tips());
        return;
      }
      const ranked = await rank(ready, query, chosen());
      const sections = await groups(ready, ranked);
      if (mine !== ticket) return;
      const [first, second] = ranked.best;
      isSure = Boolean(first) && first.score >= EXACT && (!second || second.score < first.score - EXACT / 2);
      status.textContent = say(ranked, ranked.best.length);
      again.hidden = !first;
      const near = first ? [] : await nearCodes(ready, ranked.unknown);
      if (mine !== ticket) return;
      results.replaceChildren(...(first ? sections : help(query, ranked, near)));
      root.dispatchEvent(new CustomEvent("search-shown", { detail: query }));
    }

    function say(ranked, shown) {
      const parts = [];
      if (ranked.total > shown) parts.push(pagesOf(ranked.total) + ", the best " + shown + " of them below.");
      else if (ranked.total) parts.push(pagesOf(ranked.total) + (shown > 1 ? ", best first." : "."));
      for (const [typed, read] of ranked.readAs) parts.push("No page has “" + typed + "”; looked for " + read.join(", ") + ".");
      if (ranked.unknown.length && ranked.total) parts.push("Not found: " + ranked.unknown.join(", ") + ".");
      return parts.join(" ");
    }

    /** A section for each kind of page, the kind of the best hit first; a few hits of each, the others when asked for. */
    async function groups(ready, ranked) {
      const kindOf = (one) => ready.sortOf(one.page).kind;
      const items = (list) => Promise.all(list.map((one) => item(ready, ranked, one)));
      return Promise.all(unique(ranked.best.map(kindOf)).map(async (kind) => {
        const own = ranked.best.filter((one) => kindOf(one) === kind);
        const most = own.length === ranked.best.length ? SHOWN : SHOWN_BESIDE;
        const list = make("ol", {}, ...await items(own.slice(0, most)));
        const section = make("section", { class: "search-group" }, make("h2", {}, capital(kind)), list);
        const rest = own.slice(most);
        if (rest.length) {
          section.append(make("button", { type: "button", class: "search-more", onclick: async (event) => {
            const more = await items(rest);
            list.append(...more);
            more[0].querySelector("a").focus();
            event.target.remove();
          } }, rest.length + " more"));
        }
        return section;
      }));
    }

    /** One hit. Its line comes a moment later, and the hit stands without it when it cannot be read. */
    async function item(ready, ranked, one) {
      const found = await hit(ready, ranked, one);
      const line = make("span", { class: "search-line" }, "\u00a0");
      lineOf(ready, ranked, one).then((pieces) => {
        if (pieces.length) line.replaceChildren(...marked(around(pieces)));
        else if (found.title.some((piece) => piece[1])) line.remove();
        else line.replaceChildren("On this page: ", ...found.found.flatMap((word, at) => (
          at ? [", ", make("mark", {}, word)] : [make("mark", {}, word)])));
      }).catch(() => {});
      const where = [found.machine, found.variants.join(", ")].filter(Boolean).join(" · ");
      return make("li", {}, make("a", { href: new URL(found.url, top).href },
        make("span", { class: "search-title" }, ...marked(found.title)), line,
        make("span", { class: "search-where" }, where)));
    }

    /** Known codes that begin like an unknown one, longest in common first. They are offered, never taken for it. */
    async function nearCodes(ready, unknown) {
      const found = new Set();
      for (const typed of unknown) {
        const code = words.canonical(words.fold(typed));
        if (!words.hasDigit(code)) continue;
        for (let length = code.length - 1; length > 0 && found.size < NEAR_CODES; length -= 1) {
          const known = await ready.beginning(code.slice(0, length));
          const alike = known.filter(({ term }) => shapeOf(term) === shapeOf(code));
          alike.forEach(({ term }) => found.add(term.toUpperCase()));
        }
      }
      return Array.from(found).slice(0, NEAR_CODES);
    }

    function help(query, ranked, near) {
      const parts = [make("h2", {}, "Nothing found for “" + query.trim() + "”")];
      if (ranked.hidden) {
        parts.push(make("p", {}, "Outside what you narrowed down to, " + pagesOf(ranked.hidden) + " would match."),
          make("button", { type: "button", onclick: () => {
            Object.values(selects).forEach((select) => { select.value = ""; });
            ask(input.value);
          } }, "Search the whole manual"));
      } else if (ranked.unknown.length) {
        parts.push(make("p", {}, "In no page of this manual: " + ranked.unknown.join(", ") + "."));
      }
      if (near.length) {
        parts.push(make("p", { id: "search-near-" + number }, "A code is never guessed at. In this manual there are:"),
          make("div", { class: "search-near", role: "group", "aria-labelledby": "search-near-" + number },
            ...near.map((code) => make("button", { type: "button", onclick: () => ask(code) }, code))));
      }
      return [...parts, tips(), ...recent(top)];
    }

    function tips() {
      return make("ul", {},
        make("li", {}, "A code, part number or contact: type what you can read of it; dashes and blanks do not matter."),
        make("li", {}, "Words: the beginning of one is enough; fewer words find more."),
        make("li", {}, "No code and no name? Type what you see, hear or smell."));
    }

    function recent(above) {
      const pages = globalThis.benchleafSearch.recentPages ? globalThis.benchleafSearch.recentPages(above.href) : [];
      if (!pages.length) return [];
      return [make("section", { class: "search-group" }, make("h2", {}, "Opened lately"),
        make("ol", {}, ...pages.map(({ url, title, where }) => make("li", {}, make("a", { href: new URL(url, above).href },
          make("span", { class: "search-title" }, title),
          ...(where ? [make("span", { class: "search-where" }, String(where))] : []))))))];
    }

    function remember() {
      const query = input.value;
      if (query === asked()) return;
      try {
        history.replaceState(null, "", query ? "#q=" + encodeURIComponent(query) : "#");
      } catch (refused) {
        // half a character cannot be written into an address; the search itself goes on
      }
    }

    const links = () => Array.from(results.querySelectorAll("li > a"));

    function focusInput() {
      input.focus();
      input.select();
      form.scrollIntoView({ block: "start" });
    }

    /** Enter opens the page of a code that was typed whole; else it goes to the first hit, which also puts a phone's keys away. */
    async function enter(event) {
      event.preventDefault();
      await latest;
      const first = links()[0];
      if (!first) return;
      if (isSure) first.click();
      else first.focus();
    }

    root.addEventListener("keydown", (event) => {
      const all = links();
      const at = all.indexOf(document.activeElement);
      const isInput = document.activeElement === input;
      if (event.key === "ArrowDown" && (isInput || at >= 0) && all[at + 1]) all[at + 1].focus();
      else if (event.key === "ArrowUp" && at > 0) all[at - 1].focus();
      else if ((event.key === "ArrowUp" && at === 0) || (event.key === "Escape" && at >= 0)) focusInput();
      else if (event.key === "Escape" && isInput && input.value) ask("");
      else return;
      event.preventDefault();
    });
    document.addEventListener("keydown", (event) => {
      const isTyping = event.target.closest && event.target.closest("input, select, textarea, [contenteditable]");
      if (event.key !== "/" || isTyping || event.ctrlKey || event.metaKey || event.altKey) return;
      event.preventDefault();
      focusInput();
    });
    input.addEventListener("input", () => {
      const wasAsking = root.classList.contains("is-asking");
      ask(input.value);
      // the keys of a phone hide the lower half: the field goes to the top, so that the first hits stand above them
      if (!wasAsking && window.matchMedia("(max-width: 40rem)").matches) form.scrollIntoView({ block: "start" });
    });

    function asked() {
      const inHash = new URLSearchParams(location.hash.slice(1)).get("q");
      return inHash === null ? new URLSearchParams(location.search).get("q") || "" : inHash;
    }
    window.addEventListener("pagehide", remember);
    window.addEventListener("hashchange", () => { if (asked() !== input.value) ask(asked()); });
    index.then((ready) => {
      root.dataset.ready = "";
      if (location.protocol === "file:") setTimeout(readAhead, 300, ready);
    }).catch(() => {});
    ask(asked());
  }

  /** From a stick everything is near: what queries need is read while nothing else is to do. */
  function readAhead(index) {
    const named = (kind, count) => Array.from({ length: count }, (_, at) => kind + "-" + String(at).padStart(3, "0"));
    const names = ["words", ...named("pages", index.root.pageStarts.length), ...named("terms", index.root.terms.length),
      ...named("spelling", index.root.spelling.length), ...named("lines", index.root.lineStarts.length)];
    const later = window.requestIdleCallback || ((act) => setTimeout(act, 50));
    const next = () => {
      const name = names.shift();
      if (name) later(() => index.load(name).catch(() => {}).then(next));
    };
    next();
  }

  document.querySelectorAll("[data-search]").forEach(mount);
})();
