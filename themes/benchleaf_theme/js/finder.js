/* The finder: from what is seen to the next thing worth doing, answer by answer.

   What was worked out when the manual was made comes as a script of its own, so it works from a stick. Answers stand in the
   address of the page: they can be sent, kept and printed, and the browser's own way back takes one back. Without script the
   printed order of tests says the same. */
"use strict";
(function () {
  const places = Array.from(document.querySelectorAll("[data-finder]"));
  if (!places.length || !globalThis.benchleafFinderStates) {
    return;
  }
  const { Table } = globalThis.benchleafFinderStates;
  const brought = new Map();
  const waiting = new Map();
  const views = new Map();
  let toFocus = false;
  let shownFor = null;

  globalThis.benchleafFinder = function (name, cases) {
    brought.set(name, cases);
    for (const go of waiting.get(name) || []) {
      go(cases);
    }
    waiting.delete(name);
  };

  /* The cases of a trouble; the script that brings them is asked for once. */
  function load(place, go) {
    const name = place.dataset.name;
    if (brought.has(name)) {
      go(brought.get(name));
      return;
    }
    if (waiting.has(name)) {
      waiting.get(name).push(go);
      return;
    }
    waiting.set(name, [go]);
    const script = document.createElement("script");
    script.src = place.dataset.shard;
    script.addEventListener("error", function () {
      waiting.delete(name);
      say(place, "The finder's table could not be read. The list below says the same.");
    });
    document.head.append(script);
  }

  /* ---- the address */

  /* {place, answers, cured}, or null when the address holds no interview. */
  function readAddress() {
    const read = new URLSearchParams(location.hash.slice(1));
    if (!read.has("find")) {
      return null;
    }
    const found = { place: read.get("find"), answers: [], cured: "" };
    for (const [key, value] of read) {
      const cut = value.lastIndexOf(":");
      if (key === "t" && cut > 0) {
        found.answers.push({ kind: "test", id: value.slice(0, cut), outcome: value.slice(cut + 1) });
      } else if (key === "x") {
        found.answers.push({ kind: "cannot", id: value });
      } else if (key === "n") {
        found.answers.push({ kind: "remedy", id: value });
      } else if (key === "ok") {
        found.cured = value;
      }
    }
    return found;
  }

  function addressOf(interview) {
    const made = new URLSearchParams([["find", interview.place]]);
    for (const one of interview.answers) {
      if (one.kind === "test") {
        made.append("t", one.id + ":" + one.outcome);
      } else {
        made.append(one.kind === "cannot" ? "x" : "n", one.id);
      }
    }
    if (interview.cured) {
      made.append("ok", interview.cured);
    }
    return "#" + made.toString();
  }

  /* The page answers at once. An entry of the history costs less than a new fragment, which looks for a place to scroll to;
     where a browser refuses one (a page from the disk, too many in a short time), the fragment serves. */
  function go(interview) {
    toFocus = true;
    const address = addressOf(interview);
    try {
      history.pushState(null, "", address);
    } catch (refused) {
      location.hash = address;
    }
    render();
  }

  /* A link to another place of this page leaves the interview as it stands. */
  function addressChanged() {
    const leadsElsewhere = !readAddress() && location.hash.length > 1 && document.getElementById(location.hash.slice(1));
    if (location.hash !== shownFor && !leadsElsewhere) {
      render();
    }
  }

  /* ---- words */

  function time(minutes) {
    if (minutes <= 0) {
      return "no time";
    }
    if (minutes < 1) {
      return Math.ceil(minutes * 60 - 1e-6) + " s";
    }
    const whole = Math.ceil(minutes - 1e-6);
    return whole < 60 ? whole + " min" : Math.floor(whole / 60) + " h " + (whole % 60) + " min";
  }

  const percent = (share) => (share > 0 && share < 0.005 ? "under 1 %" : share < 1 && share > 0.995 ? "over 99 %" : Math.round(share * 100) + " %");

  /* ---- the page */

  function make(tag, words, set) {
    const made = document.createElement(tag);
    if (words) {
      made.textContent = words;
    }
    for (const [name, value] of Object.entries(set || {})) {
      if (name === "class") {
        made.className = value;
      } else {
        made.setAttribute(name, value);
      }
    }
    return made;
  }

  function button(words, act, name) {
    const made = make("button", words, { type: "button", class: name || "" });
    made.addEventListener("click", act);
    return made;
  }

  /* Children become what is wanted and in that order; what is there already is left where it stands. */
  function settle(parent, wanted) {
    const staying = new Set(wanted);
    for (const child of Array.from(parent.children)) {
      if (!staying.has(child)) {
        child.remove();
      }
    }
    let next = parent.firstElementChild;
    for (const one of wanted) {
      if (one === next) {
        next = next.nextElementSibling;
      } else {
        parent.insertBefore(one, next);
      }
    }
  }

  function write(element, words) {
    if (element.textContent !== words) {
      element.textContent = words;
    }
  }

  function say(place, words) {
    place.querySelector("[data-finder-place]").replaceChildren(make("p", words, { class: "nothing" }));
  }

  function list(doings) {
    const made = make("ol", "", { class: "finder-first" });
    for (const doing of doings) {
      const line = make("li", doing.words + " (" + time(doing.minutes) + ")", { "data-doing": doing.kind });
      if (doing.how.length) {
        const how = make("ul");
        how.append(...doing.how.map((words) => make("li", words)));
        line.append(how);
      }
      made.append(line);
    }
    return made;
  }

  /* What one place shows. A click changes what has changed, and leaves the rest as it is drawn: causes still possible, tests
     still open and answers given keep their lines. What is to be done next is always written anew. */
  class View {
    constructor(place, read) {
      this.place = place;
      this.body = place.querySelector("[data-finder-place]");
      this.read = read;
      this.table = new Table(read);
      this.links = new Map(Array.from(place.querySelectorAll("[data-finder-links] [data-kind]"), (one) => [one.dataset.kind + " " + one.dataset.id, one]));
      this.causeLines = new Map();
      this.otherLines = new Map();
      this.toldLines = [];
      this.makeLeft();
      this.makeOthers();
      this.makeSoFar();
    }

    take(interview) {
      this.interview = interview;
      this.known = interview.answers.filter((one) => this.knows(one));
      this.moment = this.table.after(this.known);
      this.decided = this.table.decide(this.moment);
      this.shares = this.table.posterior(this.moment);
      this.show();
    }

    /* A link the page was given for a remedy, a test or a check, or its words where there is none. */
    link(kind, id, words) {
      const given = this.links.get(kind + " " + id);
      const made = make("span");
      if (given) {
        made.append(...Array.from(given.childNodes, (node) => node.cloneNode(true)));
      } else {
        made.textContent = words;
      }
      return made;
    }

    knows(one) {
      if (one.kind === "remedy") {
        return this.table.remedyPlace.has(one.id);
      }
      const test = this.table.testPlace.get(one.id);
      return test !== undefined && (one.kind === "cannot" || this.read.tests[test].outcomes.some((outcome) => outcome[0] === one.outcome));
    }

    with(answer) {
      const kept = this.known.filter((one) => one.kind === "remedy" || answer.kind === "remedy" || one.id !== answer.id);
      go({ place: this.interview.place, answers: kept.concat([answer]), cured: "" });
    }

    show() {
      const parts = [];
      if (this.known.length < this.interview.answers.length) {
        const many = this.interview.answers.length - this.known.length;
        parts.push(make("p", many + (many === 1 ? " answer" : " answers") + " in this address are not known here: the record has changed, or it is for another machine.", { class: "nothing", "data-finder-stale": "" }));
      }
      parts.push(this.next(), this.left(), this.others(), this.soFar());
      settle(this.body, parts.filter(Boolean));
      if (toFocus) {
        toFocus = false;
        this.body.querySelector("[data-finder-next] h4").focus();
      }
    }

    /* What to do now, or how it ended. */
    next() {
      const card = make("div", "", { class: "finder-next", "data-finder-next": "" });
      const told = this.decided;
      if (this.interview.cured) {
        this.cured(card);
      } else if (this.moment.causes === 0n) {
        this.nothingLeft(card);
      } else if (told.kind === "test") {
        this.test(card, told);
      } else if (told.kind === "remedy") {
        this.remedy(card, told);
      } else {
        this.stuck(card);
      }
      return card;
    }

    head(card, kind, words) {
      card.dataset.kind = kind;
      card.append(make("h4", words, { tabindex: "-1" }));
    }

    why(card, told, opens) {
      const rule = told.known ? "Of all that can be done now, this leaves the fewest minutes to be expected" : "By the rule “" + this.read.rule + "” this comes next; the order for these answers was not worked out. Minutes if repairs followed in a row";
      const so = told.known && !told.exact ? ", as far as the search went" : "";
      const needs = opens.length ? "" : " Nothing has to be opened, closed or made dead for it.";
      card.append(make("p", rule + so + ": " + time(told.expected) + " until it runs." + needs, { class: "finder-why" }));
    }

    doings(numbers) {
      return numbers.map((number) => this.read.doings[number]);
    }

    test(card, told) {
      const test = this.read.tests[told.place];
      const [minutes, , first, warning] = this.read.conditions[this.moment.condition].tests[told.place];
      this.head(card, "test", "Next, a test: " + test.title);
      card.dataset.id = test.id;
      if (warning) {
        card.append(make("p", warning, { class: "finder-warning" }));
      }
      this.why(card, told, first);
      if (first.length) {
        card.append(make("p", "First:"), list(this.doings(first)));
      }
      const how = make("p", "Then the test itself: " + time(test.minutes) + ", " + time(minutes) + " in all. ", { class: "finder-do" });
      how.append(this.link("test", test.id, ""));
      card.append(how);
      for (const line of test.how.concat(test.notes)) {
        card.append(make("p", line, { class: "finder-how" }));
      }
      card.append(this.outcomes(told.place), this.cannot(test));
    }

    outcomes(place) {
      const test = this.read.tests[place];
      const made = make("div", "", { class: "finder-outcomes", role: "group", "aria-label": "What is seen: " + test.title });
      for (const [id, words, reading] of test.outcomes) {
        const said = reading ? words + " (" + reading + ")" : words;
        const one = button(said, () => this.with({ kind: "test", id: test.id, outcome: id }));
        one.dataset.outcome = id;
        made.append(one);
      }
      return made;
    }

    remedy(card, told) {
      const remedy = this.read.remedies[told.place];
      const [minutes, , first, last] = this.read.conditions[this.moment.condition].remedies[told.place];
      this.head(card, "remedy", "Next, a remedy: " + remedy.title);
      card.dataset.id = remedy.id;
      this.why(card, told, first);
      if (first.length) {
        card.append(make("p", "First:"), list(this.doings(first)));
      }
      const how = make("p", "Then " + time(remedy.minutes) + " hands-on, " + time(minutes) + " in all with the trial run: ", { class: "finder-do" });
      how.append(this.link("remedy", remedy.id, remedy.title));
      card.append(how);
      for (const line of remedy.notes) {
        card.append(make("p", line, { class: "finder-how" }));
      }
      if (last.length) {
        card.append(make("p", "Before the trial run:"), list(this.doings(last)));
      }
      card.append(make("p", "Then try whether it runs (" + time(this.read.trial) + ")."));
      const answers = make("div", "", { class: "finder-outcomes", role: "group", "aria-label": "After the trial run" });
      const runs = button("It runs", () => go({ place: this.interview.place, answers: this.known, cured: remedy.id }));
      const still = button("Still the same", () => this.with({ kind: "remedy", id: remedy.id }));
      runs.dataset.outcome = "cured";
      still.dataset.outcome = "not cured";
      answers.append(runs, still);
      card.append(answers);
    }

    cured(card) {
      const place = this.table.remedyPlace.get(this.interview.cured);
      const words = place === undefined ? this.interview.cured : this.read.remedies[place].title;
      this.head(card, "cured", "It runs after: " + words);
      const line = make("p", "That it runs proves no more than that. Do the checks of the close-up before it goes back: ");
      line.append(this.link("remedy", this.interview.cured, words));
      card.append(line);
    }

    nothingLeft(card) {
      const last = this.known[this.known.length - 1];
      const dealt = last && last.kind === "remedy";
      this.head(card, dealt ? "dealt" : "unfit", dealt ? "No fault found: every recorded cause is dealt with" : "These answers fit no recorded cause");
      if (!dealt) {
        card.append(make("p", "One answer may be wrong, there may be two faults, or a cause that nobody recorded. Take back the answer you are least sure of."));
      }
      const checks = this.read.checks;
      if (checks === null) {
        card.append(make("p", "What to check when no fault is found is not recorded.", { class: "nothing" }));
      } else if (checks.length) {
        const made = make("ul");
        for (const one of checks) {
          const line = make("li", "Check: ");
          line.append(this.link("check", one, one));
          made.append(line);
        }
        card.append(made);
      }
    }

    stuck(card) {
      this.head(card, "stuck", this.shares.length > 1 ? "No recorded test tells these apart, and nothing recorded cures them" : "No remedy is recorded for what is left");
    }

    makeLeft() {
      this.leftBox = make("div", "", { class: "finder-left" });
      this.leftHead = make("h4");
      this.leftList = make("ul", "", { "data-finder-left": "" });
      this.leftBox.append(this.leftHead, this.leftList);
    }

    /* The causes left, with how likely each is. */
    left() {
      write(this.leftHead, this.shares.length ? "Still possible" : "Nothing recorded is possible");
      settle(this.leftList, this.shares.map(([j, share]) => this.causeLine(j, share)));
      return this.leftBox;
    }

    causeLine(j, share) {
      const [id, words] = this.read.causes[j];
      if (!this.causeLines.has(j)) {
        const made = make("li", "", { "data-cause": id });
        made.append(make("span", words, { class: "finder-cause" }), make("span", "", { class: "finder-share" }), make("meter", "", { min: "0", max: "1", "aria-hidden": "true" }));
        this.causeLines.set(j, made);
      }
      const line = this.causeLines.get(j);
      if (line.dataset.share !== String(share)) {
        line.dataset.share = String(share);
        write(line.children[1], percent(share));
        line.children[2].setAttribute("value", String(share));
      }
      return line;
    }

    makeOthers() {
      this.othersBox = make("details", "", { class: "finder-others" });
      this.othersHead = make("summary");
      this.othersBox.append(this.othersHead);
      this.othersBox.addEventListener("toggle", () => this.fillOthers());
    }

    /* Every test that would still tell something, to be answered in any order. */
    others() {
      const next = this.decided;
      this.telling = this.interview.cured ? [] : this.table.telling(this.moment).filter((t) => next.kind !== "test" || next.place !== t);
      if (!this.telling.length) {
        this.othersBox.open = false;
      }
      write(this.othersHead, "I know the answer to another test (" + this.telling.length + ")");
      this.fillOthers();
      return this.telling.length ? this.othersBox : null;
    }

    /* Written when they are asked for: most clicks go on with the next test. */
    fillOthers() {
      const lines = this.othersBox.open ? this.telling.map((t) => this.otherLine(t)) : [];
      settle(this.othersBox, [this.othersHead].concat(lines));
    }

    otherLine(t) {
      const test = this.read.tests[t];
      if (!this.otherLines.has(t)) {
        const made = make("div", "", { class: "finder-other", "data-test": test.id });
        const name = make("p");
        name.append(make("span"), this.link("test", test.id, ""));
        made.append(name, this.outcomes(t), this.cannot(test));
        this.otherLines.set(t, made);
      }
      const line = this.otherLines.get(t);
      const minutes = this.read.conditions[this.moment.condition].tests[t][0];
      write(line.firstElementChild.firstElementChild, test.title + " (" + time(minutes) + " from here) ");
      return line;
    }

    cannot(test) {
      return button("This test cannot be done", () => this.with({ kind: "cannot", id: test.id }), "plain");
    }

    makeSoFar() {
      this.soFarBox = make("div", "", { class: "finder-so-far" });
      this.soFarHead = make("h4");
      this.soFarList = make("ol");
      this.keepLink = make("a", "link to them");
      this.keep = make("p", "The address of this page holds these answers: ", { class: "finder-keep" });
      this.keep.append(this.keepLink, button("Print", () => window.print()), button("Start again", () => go({ place: this.interview.place, answers: [], cured: "" })));
    }

    soFar() {
      const before = this.toldLines;
      this.toldLines = this.known.map((one) => {
        const words = this.told(one) + " ";
        const at = before.findIndex((line) => line.firstChild.data === words);
        return at < 0 ? this.toldLine(words) : before.splice(at, 1)[0];
      });
      write(this.soFarHead, this.known.length ? "Answers so far" : "No answer so far");
      settle(this.soFarList, this.toldLines);
      this.keepLink.setAttribute("href", addressOf(this.interview));
      settle(this.soFarBox, [this.soFarHead].concat(this.known.length ? [this.soFarList] : [], [this.keep]));
      return this.soFarBox;
    }

    toldLine(words) {
      const line = make("li", words);
      line.append(button("Take back", () => this.takeBack(this.toldLines.indexOf(line)), "plain"));
      return line;
    }

    takeBack(at) {
      go({ place: this.interview.place, answers: this.known.filter((_, n) => n !== at), cured: "" });
    }

    told(one) {
      if (one.kind === "remedy") {
        return this.read.remedies[this.table.remedyPlace.get(one.id)].title + ": not cured.";
      }
      const test = this.read.tests[this.table.testPlace.get(one.id)];
      if (one.kind === "cannot") {
        return test.title + ": cannot be done.";
      }
      const [, words, reading] = test.outcomes.find((outcome) => outcome[0] === one.outcome);
      return test.title + ": " + words + (reading ? " (" + reading + ")" : "") + ".";
    }
  }

  function intro(place) {
    const body = place.querySelector("[data-finder-place]");
    if (body.children.length === 1 && body.firstElementChild.matches("button.go")) {
      return;
    }
    const begin = button("Begin", () => go({ place: place.dataset.case, answers: [], cured: "" }), "go");
    body.replaceChildren(begin);
  }

  /* Where all machines are alike, or the machine is known, there is nothing to choose: the first test is shown at once. */
  function beginning() {
    const left = places.filter((place) => !place.closest(".order[hidden]"));
    return left.length === 1 ? { place: left[0].dataset.case, answers: [], cured: "" } : null;
  }

  function render() {
    shownFor = location.hash;
    const interview = readAddress() || beginning();
    for (const place of places) {
      place.hidden = false;
      if (!interview || place.dataset.case !== interview.place) {
        intro(place);
        continue;
      }
      load(place, function (cases) {
        const now = readAddress() || beginning();
        const read = cases[Number(place.dataset.case)];
        if (now && now.place === place.dataset.case && read) {
          if (!views.has(place)) {
            views.set(place, new View(place, read));
          }
          views.get(place).take(now);
        } else if (!read) {
          say(place, "The finder's table is of another issue than this page. Load the page again.");
        }
      });
    }
  }

  for (const note of document.querySelectorAll("[data-finder-without]")) {
    note.remove();
  }
  window.addEventListener("hashchange", addressChanged);
  document.addEventListener("benchleaf:fit", function () {
    if (!readAddress()) {
      render();
    }
  });
  render();
})();
