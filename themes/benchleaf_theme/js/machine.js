/* Which machine is in front of the reader. Said once, kept by the browser for that machine, applied to every page.

   Three answers, as everywhere in this manual: it is for this machine, it is not, it is not known. Only what is certainly not for
   the machine is folded away, and only where that is allowed: a safety message is never folded, and lists of hazards, conditions
   and live places ([data-narrow="answered"]) follow from answers given at the machine, never from a serial alone. */
"use strict";
(function () {
  const KEY = "benchleaf.machine.";

  /* A serial as it is compared: group by group, digits as numbers, letters as text, digits first. */
  function serialKey(serial) {
    return (serial.toUpperCase().match(/[0-9]+|[A-Z]+/g) || []).map(function (group) {
      return /^[0-9]/.test(group) ? [0, BigInt(group), ""] : [1, 0n, group];
    });
  }

  function compareSerials(one, other) {
    const a = serialKey(one);
    const b = serialKey(other);
    for (let i = 0; i < Math.min(a.length, b.length); i += 1) {
      for (let part = 0; part < 3; part += 1) {
        if (a[i][part] !== b[i][part]) {
          return a[i][part] < b[i][part] ? -1 : 1;
        }
      }
    }
    return a.length - b.length;
  }

  function within(serial, first, last) {
    return (first === "" || compareSerials(first, serial) <= 0) && (last === "" || compareSerials(serial, last) <= 0);
  }

  /* Variants a serial can be; a single serial beats a range; null when no variant records it. */
  function variantOfSerial(variants, serial) {
    if (serial === "") {
      return null;
    }
    const single = [];
    const range = [];
    for (const variant of variants) {
      for (const pair of variant.serials) {
        if (pair[0] !== "" && pair[0] === pair[1]) {
          if (compareSerials(pair[0], serial) === 0) {
            single.push(variant.id);
          }
        } else if (within(serial, pair[0], pair[1])) {
          range.push(variant.id);
        }
      }
    }
    const found = single.length ? single : range;
    return found.length === 1 ? found[0] : null;
  }

  /* What is known of the machine. "answered" holds answers given at the machine, "known" adds what its serial says. Where the two
     contradict each other nothing is known, and the reader is told. */
  function facts(machine, kept) {
    const answered = { variant: kept.variant || null, modifications: {}, serial: "" };
    const known = { variant: answered.variant, modifications: {}, serial: kept.serial };
    const contradictions = [];
    const bySerial = variantOfSerial(machine.variants, kept.serial);
    if (bySerial !== null) {
      if (answered.variant !== null && answered.variant !== bySerial) {
        contradictions.push("the serial and the answer name two variants");
        answered.variant = null;
        known.variant = null;
      } else {
        known.variant = bySerial;
      }
    }
    for (const one of machine.modifications) {
      const said = kept.modifications[one.id];
      const answer = said === "yes" ? true : said === "no" ? false : null;
      const listed = kept.serial !== "" && one.serials.some((serial) => compareSerials(serial, kept.serial) === 0);
      if (listed && answer === false) {
        contradictions.push("this serial is listed with: " + one.words);
        answered.modifications[one.id] = null;
        known.modifications[one.id] = null;
      } else {
        answered.modifications[one.id] = answer;
        known.modifications[one.id] = listed ? true : answer;
      }
    }
    return { answered: answered, known: known, contradictions: contradictions };
  }

  function termHolds(term, known) {
    if (term.kind === "variant") {
      return known.variant === null ? null : known.variant === term.id;
    }
    if (term.kind === "serials") {
      return known.serial === "" ? null : within(known.serial, term.first, term.last);
    }
    const there = known.modifications[term.id];
    if (there === undefined || there === null) {
      return null;
    }
    return term.kind === "without" ? !there : there;
  }

  /* The terms are joined by "or": true, false, or null = not known. */
  function fits(terms, known) {
    const answers = terms.map((term) => termHolds(term, known));
    if (answers.includes(true)) {
      return true;
    }
    return answers.includes(null) || answers.length === 0 ? null : false;
  }

  const benchleaf = (window.benchleaf = window.benchleaf || {});
  Object.assign(benchleaf, { compareSerials: compareSerials, facts: facts, fits: fits, serial: () => "" });

  function read(id) {
    const empty = { serial: "", variant: "", modifications: {} };
    try {
      const kept = JSON.parse(localStorage.getItem(KEY + id) || "{}");
      return {
        serial: typeof kept.serial === "string" ? kept.serial : "",
        variant: typeof kept.variant === "string" ? kept.variant : "",
        modifications: kept.modifications && typeof kept.modifications === "object" ? kept.modifications : {},
      };
    } catch (refused) {
      return empty;
    }
  }

  function keep(id, kept) {
    try {
      if (kept.serial === "" && kept.variant === "" && Object.keys(kept.modifications).length === 0) {
        localStorage.removeItem(KEY + id);
      } else {
        localStorage.setItem(KEY + id, JSON.stringify(kept));
      }
    } catch (refused) {
      /* the answers then last for this page only */
    }
  }

  function note(element, words) {
    let place = element.querySelector(":scope > .fit-note");
    if (words === "") {
      if (place) {
        place.remove();
      }
      return;
    }
    if (!place) {
      place = document.createElement(element.tagName === "LI" || element.tagName === "SPAN" ? "span" : "p");
      place.className = "fit-note";
      element.append(place);
    }
    place.textContent = words;
  }

  function fold(element, folded) {
    element.hidden = folded;
    if (element.tagName !== "SECTION") {
      return;
    }
    let line = element.nextElementSibling;
    if (!line || !line.classList.contains("fit-hidden")) {
      line = document.createElement("p");
      line.className = "fit-hidden";
      const title = element.querySelector(".step-title");
      const tag = element.querySelector(".applies");
      const number = title ? title.querySelector(".step-number").textContent.trim() : "This part";
      line.textContent = number + " is folded away: " + (tag ? tag.textContent.trim().replace(/^Only/, "only") : "not for this machine") + ".";
      element.after(line);
    }
    line.hidden = !folded;
  }

  function start(section) {
    const id = section.dataset.chooser;
    const form = section.querySelector("[data-chooser-form]");
    const says = section.querySelector("[data-chooser-says]");
    const machine = { variants: [], modifications: [] };
    for (const input of form.querySelectorAll("[data-question='variant'] input[data-serials]")) {
      machine.variants.push({ id: input.value, serials: JSON.parse(input.dataset.serials), words: input.parentElement.querySelector("strong").textContent });
    }
    for (const set of form.querySelectorAll("[data-question='modification']")) {
      machine.modifications.push({ id: set.dataset.id, serials: JSON.parse(set.dataset.serials), words: set.dataset.words });
    }
    let kept = read(id);
    let showAll = false;

    const status = document.createElement("p");
    status.className = "unseen";
    status.setAttribute("role", "status");
    section.append(status);
    const unfold = document.createElement("button");
    unfold.type = "button";
    unfold.className = "chooser-unfold";
    unfold.hidden = true;
    section.append(unfold);

    function fill() {
      form.elements.namedItem("serial").value = kept.serial;
      for (const input of form.querySelectorAll("input[type='radio']")) {
        const said = input.name === "variant" ? kept.variant : kept.modifications[input.name.slice(2)] || "";
        input.checked = input.value === said;
      }
    }

    function show(aloud) {
      const what = facts(machine, kept);
      let folded = 0;
      for (const element of document.querySelectorAll("[data-applies]")) {
        const terms = JSON.parse(element.dataset.applies);
        const never = element.closest(".safety") !== null || element.hasAttribute("data-never-hide");
        const careful = never || element.closest("[data-narrow='answered']") !== null;
        const fit = fits(terms, careful ? what.answered : what.known);
        element.dataset.fit = fit === null ? "unknown" : fit ? "yes" : "no";
        if (never) {
          note(element, fit === false ? "By your answers not for this machine." : "");
        } else {
          folded += fit === false ? 1 : 0;
          fold(element, fit === false && !showAll);
        }
      }
      const open = machine.modifications.filter((one) => what.known.modifications[one.id] === null);
      const words = [];
      if (kept.serial !== "") {
        words.push("serial " + kept.serial);
      }
      const variant = machine.variants.find((one) => one.id === what.known.variant);
      if (variant) {
        words.push(variant.words);
      } else if (machine.variants.length > 1) {
        words.push("every variant");
      }
      for (const one of machine.modifications) {
        if (what.known.modifications[one.id] === true) {
          words.push("with: " + one.words);
        } else if (what.known.modifications[one.id] === false) {
          words.push("without: " + one.words);
        }
      }
      let text = "Shown for " + (words.length ? words.join(", ") : "every machine") + ".";
      if (open.length) {
        text += " Not answered, so both cases are shown: " + open.map((one) => one.words.replace(/\?$/, "")).join("; ") + ".";
      }
      if (what.contradictions.length) {
        text += " Look again, " + what.contradictions.join("; ") + ": until then both are shown.";
      }
      if (kept.serial !== "" && (open.length || !kept.variant)) {
        text += " Hazards, conditions and live places are not narrowed by the serial alone.";
      }
      says.textContent = text;
      unfold.hidden = folded === 0;
      unfold.textContent = showAll ? "Fold away what is not for it" : folded + (folded === 1 ? " part" : " parts") + " not for it folded away: show";
      if (aloud) {
        status.textContent = text;
      }
      benchleaf.serial = () => kept.serial;
      document.dispatchEvent(new CustomEvent("benchleaf:fit"));
    }

    function changed() {
      const next = { serial: form.elements.namedItem("serial").value.trim(), variant: "", modifications: {} };
      for (const input of form.querySelectorAll("input[type='radio']:checked")) {
        if (input.name === "variant") {
          next.variant = input.value;
        } else if (input.value !== "") {
          next.modifications[input.name.slice(2)] = input.value;
        }
      }
      kept = next;
      keep(id, kept);
      show(true);
    }

    section.querySelector("[data-without-script]").hidden = true;
    form.hidden = false;
    fill();
    form.addEventListener("input", changed);
    form.addEventListener("submit", function (event) {
      event.preventDefault();
      changed();
    });
    section.querySelector("[data-chooser-forget]").addEventListener("click", function () {
      kept = { serial: "", variant: "", modifications: {} };
      keep(id, kept);
      fill();
      show(true);
    });
    unfold.addEventListener("click", function () {
      showAll = !showAll;
      show(true);
    });
    window.addEventListener("storage", function (event) {
      if (event.key === KEY + id) {
        kept = read(id);
        fill();
        show(false);
      }
    });
    show(false);
  }

  for (const section of document.querySelectorAll("[data-chooser]")) {
    start(section);
  }
})();
