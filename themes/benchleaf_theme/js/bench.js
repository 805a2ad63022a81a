/* The bench view: one step a screen. Worked by three large keys, the arrow keys, space, or a pedal that sends page up and down.

   Progress belongs to one job: this procedure, its issue and content, this serial, this start. It is offered when the reader comes
   back and never assumed. Steps that isolate, discharge or prove dead come back unticked, since nobody knows what was plugged
   in meanwhile; when the content of the procedure has changed, everything does. */
"use strict";
(function () {
  const KEY = "benchleaf.jobs";
  const bench = document.querySelector("[data-bench]");
  if (!bench) {
    return;
  }
  const root = document.documentElement;
  const steps = Array.from(bench.querySelectorAll("[data-bench-step]"));
  const end = bench.querySelector("[data-bench-end]");
  const screens = steps.concat([end]);
  const keys = bench.querySelector("[data-bench-keys]");
  const back = bench.querySelector("[data-bench-back]");
  const next = bench.querySelector("[data-bench-next]");
  const tick = bench.querySelector("[data-bench-tick]");
  const rule = bench.querySelector("[data-bench-rule]");
  const procedure = bench.dataset.procedure;
  const content = bench.dataset.content;
  const issue = bench.dataset.issue;
  let job = null;
  let at = 0;
  let awake = null;

  function readJobs() {
    try {
      const jobs = JSON.parse(localStorage.getItem(KEY) || "[]");
      return Array.isArray(jobs) ? jobs.filter((one) => one && Array.isArray(one.ticked)) : [];
    } catch (refused) {
      return [];
    }
  }

  function writeJobs(jobs) {
    try {
      localStorage.setItem(KEY, JSON.stringify(jobs));
      return true;
    } catch (refused) {
      return false;
    }
  }

  const same = (one, other) => one.procedure === other.procedure && one.serial === other.serial && one.started === other.started;

  function save() {
    const kept = writeJobs(readJobs().filter((one) => !same(one, job)).concat([job]));
    bench.querySelector("[data-bench-says]").textContent = kept ? "" : "This browser keeps no progress: finish the job without leaving this page.";
  }

  const name = (step) => step.dataset.benchStep;
  const isTicked = (step) => job.ticked.includes(name(step));
  const isMeant = (step) => step.dataset.fit !== "no" || step.hasAttribute("data-energy");
  const number = (step) => step.querySelector(".step-number").textContent.replace("Step", "").trim();

  function show(focus) {
    for (const screen of screens) {
      screen.classList.toggle("now", screen === screens[at]);
    }
    for (const near of screens.slice(at, at + 2)) {
      for (const picture of near.querySelectorAll("img[loading='lazy']")) {
        picture.loading = "eager";
      }
    }
    const step = steps[at];
    back.disabled = at === 0;
    next.disabled = at === screens.length - 1;
    tick.disabled = !step;
    tick.setAttribute("aria-pressed", String(Boolean(step) && isTicked(step)));
    bench.querySelector("[data-bench-tick-words]").textContent = step && isTicked(step) ? "Ticked" : "Tick";
    const meant = steps.filter(isMeant);
    const done = meant.filter(isTicked).length;
    const where = step ? "Step " + number(step) + " of " + steps.length : "After the last step";
    bench.querySelector("[data-bench-where]").textContent = where + ", " + done + " of " + meant.length + " ticked" + (job.serial ? ", serial " + job.serial : "");
    Array.from(rule.children).forEach(function (mark, place) {
      mark.className = (place === at ? "at " : "") + (steps[place] && isTicked(steps[place]) ? "ticked" : "");
    });
    const open = meant.filter((one) => !isTicked(one)).map(number);
    bench.querySelector("[data-bench-open]").textContent = open.length
      ? "Not ticked: step " + open.join(", ") + ". The job is open."
      : "Every step is ticked. That is what was ticked, not a proof: do the checks of the close-up.";
    if (focus) {
      window.scrollTo(0, 0);
      screens[at].focus({ preventScroll: true });
    }
    job.at = at;
    save();
  }

  function go(way) {
    const to = at + way;
    if (to >= 0 && to < screens.length) {
      at = to;
      show(true);
    }
  }

  /* A pedal goes on only when the whole step was on the screen: no warning is trodden past. */
  function goOnOrDown() {
    const below = root.scrollHeight - window.scrollY - window.innerHeight;
    const room = window.innerHeight - keys.offsetHeight;
    if (below > 4) {
      window.scrollBy(0, Math.min(below, room * 0.85));
    } else {
      go(1);
    }
  }

  function toggle() {
    const step = steps[at];
    if (!step) {
      return;
    }
    job.ticked = isTicked(step) ? job.ticked.filter((one) => one !== name(step)) : job.ticked.concat([name(step)]);
    show(false);
  }

  function pressed(event) {
    if (!job || event.altKey || event.ctrlKey || event.metaKey) {
      return;
    }
    const inside = event.target.closest("a, button, input, select, textarea, summary, [tabindex='0']");
    if (inside && inside.matches("input, select, textarea")) {
      return;
    }
    const act = {
      ArrowRight: () => go(1),
      ArrowLeft: () => go(-1),
      PageDown: goOnOrDown,
      PageUp: () => go(-1),
      " ": inside ? null : goOnOrDown,
      Enter: inside ? null : toggle,
    }[event.key];
    if (act) {
      event.preventDefault();
      act();
    }
  }

  async function stayAwake() {
    const place = bench.querySelector("[data-bench-awake]");
    if (!("wakeLock" in navigator)) {
      place.textContent = "This browser lets the screen go dark.";
      return;
    }
    try {
      awake = await navigator.wakeLock.request("screen");
      place.textContent = "Screen kept on.";
      awake.addEventListener("release", function () {
        place.textContent = "The screen may go dark.";
      });
    } catch (refused) {
      place.textContent = "This device lets the screen go dark.";
    }
  }

  function work(chosen, again) {
    job = chosen;
    at = Math.min(Math.max(0, Number(job.at) || 0), screens.length - 1);
    root.classList.add("working");
    keys.hidden = false;
    for (const old of bench.querySelectorAll(".bench-again")) {
      old.remove();
    }
    if (again) {
      const first = steps.findIndex((step) => !isTicked(step));
      at = first < 0 ? at : Math.min(at, first);
      const line = document.createElement("p");
      line.className = "bench-again";
      line.textContent = again;
      screens[at].prepend(line);
    }
    show(true);
    stayAwake();
  }

  function leave() {
    job = null;
    root.classList.remove("working");
    keys.hidden = true;
    if (awake) {
      awake.release();
      awake = null;
    }
    offer();
    bench.querySelector("[data-bench-start]").scrollIntoView();
    bench.querySelector("#bench-serial").focus({ preventScroll: true });
  }

  function takeUp(old) {
    const changed = old.content !== content;
    const energy = steps.filter((step) => step.hasAttribute("data-energy")).map(name);
    const names = steps.map(name);
    const ticked = changed ? [] : old.ticked.filter((one) => names.includes(one) && !energy.includes(one));
    const lost = old.ticked.some((one) => energy.includes(one));
    writeJobs(readJobs().filter((one) => !same(one, old)));
    let again = "";
    if (changed) {
      again = "The procedure has changed since this job was begun (issue " + (old.issue || "not recorded") + " then, " + (issue || "not recorded") + " now). Every step is unticked: go through it again.";
    } else if (lost) {
      again = "You have been away. Isolating, discharging and proving dead are unticked: prove dead again before you touch anything.";
    }
    work({ procedure: procedure, issue: issue, content: content, serial: old.serial, started: old.started, ticked: ticked, at: changed ? 0 : old.at }, again);
  }

  function when(started) {
    const date = new Date(started);
    const two = (part) => String(part).padStart(2, "0");
    return date.getFullYear() + "-" + two(date.getMonth() + 1) + "-" + two(date.getDate()) + " " + two(date.getHours()) + ":" + two(date.getMinutes());
  }

  function offer() {
    const place = bench.querySelector("[data-bench-jobs]");
    const jobs = readJobs().filter((one) => one.procedure === procedure);
    place.replaceChildren();
    place.hidden = jobs.length === 0;
    if (jobs.length) {
      const title = document.createElement("h2");
      title.textContent = "Jobs not finished on this device";
      place.append(title);
    }
    for (const old of jobs) {
      const row = document.createElement("div");
      row.className = "bench-job";
      const line = document.createElement("p");
      const whose = old.serial ? "Serial " + old.serial : "No serial given";
      line.textContent = whose + ", begun " + when(old.started) + ", " + old.ticked.length + " ticked" + (old.content !== content ? ". The procedure has changed since." : ".");
      const on = document.createElement("button");
      on.type = "button";
      on.textContent = "Go on with it";
      on.setAttribute("aria-label", "Go on with it: " + line.textContent);
      on.addEventListener("click", () => takeUp(old));
      const drop = document.createElement("button");
      drop.type = "button";
      drop.textContent = "Forget it";
      drop.setAttribute("aria-label", "Forget it: " + line.textContent);
      drop.addEventListener("click", function () {
        writeJobs(readJobs().filter((one) => !same(one, old)));
        offer();
      });
      row.append(line, on, drop);
      place.append(row);
    }
    const serial = bench.querySelector("#bench-serial");
    if (serial.value === "" && window.benchleaf) {
      serial.value = window.benchleaf.serial();
    }
  }

  for (let place = 0; place < screens.length; place += 1) {
    rule.append(document.createElement("i"));
  }
  const form = bench.querySelector("[data-bench-new]");
  form.hidden = false;
  form.addEventListener("submit", function (event) {
    event.preventDefault();
    const serial = form.elements.namedItem("serial").value.trim();
    work({ procedure: procedure, issue: issue, content: content, serial: serial, started: Date.now(), ticked: [], at: 0 }, "");
  });
  back.addEventListener("click", () => go(-1));
  next.addEventListener("click", () => go(1));
  tick.addEventListener("click", toggle);
  bench.querySelector("[data-bench-leave]").addEventListener("click", leave);
  document.addEventListener("keydown", pressed);
  document.addEventListener("visibilitychange", function () {
    if (job && document.visibilityState === "visible") {
      stayAwake();
    }
  });
  document.addEventListener("benchleaf:fit", function () {
    if (job) {
      show(false);
    }
  });
  offer();
})();
