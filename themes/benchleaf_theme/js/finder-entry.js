/* What is wrong with this machine: ticks of what is seen lead to an order of tests; what is dead and what works leads to
   what the dead share. What was ticked stands in the address: it can be sent, kept and printed. */
"use strict";
(function () {
  const entry = document.querySelector("[data-entry]");
  if (!entry) {
    return;
  }
  const ticks = Array.from(entry.querySelectorAll("[data-tick]"));
  const begin = entry.querySelector("[data-entry-begin]");
  const supplies = globalThis.benchleafSupplies;
  const tables = supplies ? supplies.tables(entry.dataset.name) : [];
  const STATES = [["dead", "dead"], ["works", "works"], ["", "not tried"]];

  function make(tag, words, set) {
    const made = document.createElement(tag);
    if (words) {
      made.textContent = words;
    }
    for (const [name, value] of Object.entries(set || {})) {
      made.setAttribute(name, value);
    }
    return made;
  }

  /* ---- the address */

  /* {seen, functions}: keys of ticks; for each group of machines what is dead and what works. */
  function readAddress() {
    const read = new URLSearchParams(location.hash.slice(1));
    const functions = new Map();
    for (const name of ["dead", "works"]) {
      for (const value of read.getAll(name)) {
        const cut = value.indexOf(":");
        functions.set(value.slice(0, cut) + ":" + value.slice(cut + 1), name);
      }
    }
    return { seen: new Set(read.getAll("seen")), functions: functions };
  }

  function writeAddress() {
    const made = new URLSearchParams();
    for (const tick of ticks) {
      if (box(tick).checked) {
        made.append("seen", tick.dataset.tick);
      }
    }
    for (const input of entry.querySelectorAll("[data-function] input:checked")) {
      if (input.value) {
        made.append(input.value, input.closest("[data-function]").dataset.function);
      }
    }
    location.hash = made.toString();
  }

  const box = (tick) => tick.querySelector("input");

  /* ---- what is seen */

  function name(tick) {
    const words = tick.querySelector(".tick-code, .tick-words").textContent;
    return tick.dataset.kind === "code" ? "code " + words : words;
  }

  /* Codes first, for they say more; then what can be the least. */
  function inOrder(chosen) {
    const many = (tick) => causes(tick).length || Infinity;
    const rank = (tick) => (tick.dataset.kind === "code" ? 0 : 1);
    return chosen.slice().sort((a, b) => rank(a) - rank(b) || many(a) - many(b) || ticks.indexOf(a) - ticks.indexOf(b));
  }

  const causes = (tick) => JSON.parse(tick.dataset.causes);

  function showBegin() {
    const chosen = inOrder(ticks.filter((tick) => box(tick).checked));
    const parts = [make("h3", chosen.length ? "Begin here" : "Nothing is ticked yet")];
    if (!chosen.length) {
      parts.push(make("p", "Tick everything that is seen. A code says more than words."));
    }
    if (chosen.length > 1) {
      parts.push(shared(chosen));
    }
    const list = make("ol", "", { class: "links" });
    for (const tick of chosen) {
      const line = make("li");
      line.append(make("a", name(tick), { href: tick.dataset.path + "#order-of-tests" }), " ", make("span", told(tick), { class: "need-note" }));
      list.append(line);
    }
    if (chosen.length) {
      parts.push(list);
    }
    begin.replaceChildren(...parts);
  }

  function told(tick) {
    const many = causes(tick).length;
    return many ? many + (many === 1 ? " cause" : " causes") + " recorded" : "no cause recorded: nothing here is cleared by it";
  }

  /* The same cause behind everything that is ticked, one fault at a time. */
  function shared(chosen) {
    const recorded = chosen.map(causes).filter((one) => one.length);
    const ids = recorded.map((one) => new Set(one.map(([id]) => id)));
    const common = recorded.length > 1 ? recorded[0].filter(([id]) => ids.every((one) => one.has(id))) : [];
    const made = make("p", "", { "data-entry-shared": common.map(([id]) => id).join(" ") });
    if (common.length) {
      made.append(make("strong", "One fault could be behind all of it: "), common.map(([, words]) => words).join("; ") + ".");
    } else {
      made.append(make("strong", "No recorded cause is behind all of it."), " There may be two faults, or one that nobody recorded. Follow each.");
    }
    return made;
  }

  /* ---- what is dead */

  function functionRows(section, table) {
    const number = section.dataset.functions;
    const rows = make("div", "", { class: "functions" });
    for (const [item, words] of table.functions) {
      const key = number + ":" + item;
      const row = make("fieldset", "", { class: "function", "data-function": key });
      row.append(make("legend", words));
      for (const [value, said] of STATES) {
        const label = make("label", "", { class: "choice" });
        const input = make("input", "", { type: "radio", name: key, value: value });
        input.checked = value === "";
        label.append(input, make("span", said));
        row.append(label);
      }
      rows.append(row);
    }
    return rows;
  }

  function showPath(section, table) {
    const of = (state) => Array.from(section.querySelectorAll("[data-function] input:checked")).filter((one) => one.value === state).map((one) => item(one));
    const dead = of("dead");
    const place = section.querySelector("[data-functions-result]");
    if (!dead.length) {
      place.replaceChildren(make("h4", "Say what is dead"), make("p", "What is dead and what works: the more is said, the less is left."));
      return;
    }
    const found = supplies.commonPath(table, dead, of("works"));
    const parts = [make("h4", found.suspects.length ? "One of these, from where power enters" : "Nothing recorded is shared by all that is dead and by nothing that works")];
    if (found.suspects.length) {
      const list = make("ol", "", { "data-suspects": "" });
      for (const link of found.suspects) {
        list.append(make("li", link[1], { "data-link": link[0] }));
      }
      parts.push(list);
    } else {
      parts.push(make("p", "There may be two faults, or something on the way that nobody recorded. Nothing is cleared by this."));
    }
    if (found.split) {
      parts.push(make("h4", "Measure next, in the middle of it"));
      const list = make("ul", "", { "data-split": found.split.link[2] });
      list.append(...supplies.splitWords(table, found.split).map((words) => make("li", words)));
      parts.push(list);
    }
    if (found.untold.length) {
      const names = table.functions.filter(([id]) => found.untold.includes(id)).map(([, words]) => words);
      parts.push(make("p", "What these hang on is not recorded, so they say nothing here: " + names.join(", ") + ".", { class: "nothing" }));
    }
    place.replaceChildren(...parts);
  }

  const item = (input) => input.closest("[data-function]").dataset.function.replace(/^[0-9]+:/, "");

  /* ---- together */

  function render() {
    const read = readAddress();
    for (const tick of ticks) {
      box(tick).checked = read.seen.has(tick.dataset.tick);
    }
    for (const row of entry.querySelectorAll("[data-function]")) {
      const state = read.functions.get(row.dataset.function) || "";
      for (const input of row.querySelectorAll("input")) {
        input.checked = input.value === state;
      }
    }
    showBegin();
    for (const section of sections) {
      showPath(section, tables[Number(section.dataset.functions)]);
    }
  }

  const sections = Array.from(entry.querySelectorAll("[data-functions]")).filter((one) => (tables[Number(one.dataset.functions)] || { functions: [] }).functions.length);
  for (const tick of ticks) {
    box(tick).hidden = false;
  }
  for (const section of sections) {
    const place = section.querySelector("[data-functions-place]");
    place.append(functionRows(section, tables[Number(section.dataset.functions)]), make("div", "", { class: "finder", "data-functions-result": "", "aria-live": "polite" }));
    place.hidden = false;
    section.querySelector("[data-functions-table]").open = false;
  }
  entry.querySelector("[data-entry-without]").remove();
  begin.hidden = false;
  entry.addEventListener("change", writeAddress);
  window.addEventListener("hashchange", render);
  render();
})();
