/* Zoom, pan and following a net in an interconnection diagram, by keys, mouse and fingers.

   The drawing is moved by its viewBox alone: no style is written, nothing is fetched. Following goes by what the drawing
   says itself: each cable names its nets, the table below names the nets in words. When a net is followed, the focus walks
   along its cables, and what stands there is said in words. */
"use strict";
(function () {
  const STEP = 1.3;
  const SMALLEST = 0.7; /* a drawing unit in CSS pixels below which letters are too small to start with */
  const START = 0.85;
  const MOST = 4;

  function make(name, words, attributes) {
    const made = document.createElement(name);
    made.textContent = words || "";
    for (const key of Object.keys(attributes || {})) {
      made.setAttribute(key, attributes[key]);
    }
    return made;
  }

  function enhance(figure, order) {
    const view = figure.querySelector("[data-diagram-view]");
    const svg = view && view.querySelector("svg");
    if (!svg || !svg.viewBox.baseVal.width) {
      return;
    }
    const all = { x: svg.viewBox.baseVal.x, y: svg.viewBox.baseVal.y, w: svg.viewBox.baseVal.width, h: svg.viewBox.baseVal.height };
    const cables = Array.from(svg.querySelectorAll("[data-cable]"));
    const boxes = Array.from(svg.querySelectorAll("[data-item]"));
    const rows = Array.from(figure.querySelectorAll("tr[data-net]"));
    let middle = { x: all.x + all.w / 2, y: "top" in figure.dataset ? all.y : all.y + all.h / 2 };
    let scale = 1;
    let whole = true;
    let followed = [];
    let at = -1;

    const nets = (cable) => (cable.dataset.nets || "").split(" ").filter(Boolean);
    const words = (part) => part.querySelector("title").textContent;
    const room = () => ({ w: Math.max(svg.clientWidth, 1), h: Math.max(svg.clientHeight, 1) });
    const fit = () => Math.min(room().w / all.w, room().h / all.h);

    function show() {
      const size = room();
      const least = Math.min(fit(), 1);
      scale = whole ? fit() : Math.min(Math.max(scale, least), Math.max(MOST, least));
      const w = size.w / scale;
      const h = size.h / scale;
      const hold = (value, start, length, seen) =>
        seen >= length ? start + length / 2 : Math.min(Math.max(value, start + seen / 2), start + length - seen / 2);
      middle = { x: hold(middle.x, all.x, all.w, w), y: hold(middle.y, all.y, all.h, h) };
      svg.setAttribute("viewBox", [middle.x - w / 2, middle.y - h / 2, w, h].map((n) => n.toFixed(2)).join(" "));
      view.classList.toggle("near", scale > fit() * 1.01);
    }

    function zoom(by, place) {
      const before = scale;
      const held = place || middle;
      whole = false;
      scale = Math.min(Math.max(scale * by, Math.min(fit(), 1)), MOST);
      const kept = before / scale;
      middle = { x: held.x + (middle.x - held.x) * kept, y: held.y + (middle.y - held.y) * kept };
      show();
    }

    function pan(right, down) {
      whole = false;
      middle = { x: middle.x + right / scale, y: middle.y + down / scale };
      show();
    }

    function showAll() {
      whole = true;
      show();
    }

    function placeOf(event) {
      const frame = svg.getBoundingClientRect();
      return {
        x: middle.x + (event.clientX - frame.left - frame.width / 2) / scale,
        y: middle.y + (event.clientY - frame.top - frame.height / 2) / scale,
      };
    }

    /* ---- following */

    const keys = make("div", "", { class: "diagram-keys" });
    const says = make("p", "", { class: "diagram-says", role: "status" });
    const select = make("select", "", { id: "diagram-net-" + order });
    const next = make("button", "Next cable", { type: "button" });

    function button(words, label, act) {
      const made = make("button", words, label ? { type: "button", "aria-label": label, title: label } : { type: "button" });
      made.addEventListener("click", act);
      keys.append(made);
    }

    function endsOf(cable) {
      const title = words(cable);
      return title.slice(title.indexOf(":") + 1, title.indexOf(";")).split("–").map((end) => end.trim());
    }

    function isAtEnd(box, ends) {
      const id = box.dataset.item;
      return ends.some((end) => end === id || end.startsWith(id + "-") || end.startsWith(id + ".") || end.startsWith(id + ":"));
    }

    function follow(chosen, said) {
      followed = chosen;
      at = -1;
      const ends = chosen.flatMap(endsOf);
      svg.classList.toggle("following", chosen.length > 0);
      cables.forEach((cable) => cable.classList.toggle("followed", chosen.includes(cable)));
      boxes.forEach((box) => box.classList.toggle("followed", isAtEnd(box, ends)));
      next.disabled = chosen.length === 0;
      says.textContent = said;
    }

    function followNet(id) {
      const row = rows.find((one) => one.dataset.net === id);
      rows.forEach((one) => one.classList.toggle("followed", one === row));
      if (!row) {
        follow([], "");
        return;
      }
      const chosen = cables.filter((cable) => nets(cable).includes(id));
      const names = Array.from(new Set(chosen.map((cable) => cable.dataset.cable)));
      follow(chosen, row.cells[0].textContent + ": " + names.join(", ") + ". Contacts " + row.cells[2].textContent + ".");
    }

    function followCable(cable) {
      const same = cables.filter((one) => one.dataset.cable === cable.dataset.cable);
      const through = nets(cable);
      rows.forEach((one) => one.classList.toggle("followed", through.includes(one.dataset.net)));
      select.value = through.length === 1 ? through[0] : "";
      follow(same, words(cable) + ".");
    }

    function centre(part) {
      const box = part.getBBox();
      middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
      const art = part.ownerSVGElement === svg ? part.getCTM() : null;
      const own = svg.getCTM();
      if (art && own) {
        const placed = own.inverse().multiply(art);
        const point = new DOMPoint(middle.x, middle.y).matrixTransform(placed);
        middle = { x: point.x, y: point.y };
      }
      if (scale < START) {
        whole = false;
        scale = START;
      }
      show();
    }

    function walk(way) {
      if (!followed.length) {
        return;
      }
      at = (at + way + followed.length) % followed.length;
      const cable = followed[at];
      cable.focus({ preventScroll: true });
      centre(cable);
      says.textContent = at + 1 + " of " + followed.length + ": " + words(cable) + ".";
    }

    /* ---- keys */

    function pressed(event) {
      if (event.altKey || event.ctrlKey || event.metaKey) {
        return;
      }
      const far = Math.min(room().w, room().h) * 0.2;
      const act = {
        ArrowLeft: () => pan(-far, 0),
        ArrowRight: () => pan(far, 0),
        ArrowUp: () => pan(0, -far),
        ArrowDown: () => pan(0, far),
        "+": () => zoom(STEP),
        "=": () => zoom(STEP),
        "-": () => zoom(1 / STEP),
        0: showAll,
        n: () => walk(1),
        p: () => walk(-1),
        Enter: () => document.activeElement.matches("[data-cable]") && followCable(document.activeElement),
        Escape: () => {
          select.value = "";
          followNet("");
          view.focus();
        },
      }[event.key];
      if (act) {
        event.preventDefault();
        act();
      }
    }

    /* ---- mouse and fingers */

    const fingers = new Map();
    let moved = 0;

    function spread() {
      const [one, two] = Array.from(fingers.values());
      return { far: Math.hypot(one.clientX - two.clientX, one.clientY - two.clientY), clientX: (one.clientX + two.clientX) / 2, clientY: (one.clientY + two.clientY) / 2 };
    }

    view.addEventListener("pointerdown", function (event) {
      if (event.button !== 0) {
        return;
      }
      fingers.set(event.pointerId, event);
      moved = 0;
      view.classList.add("held");
    });
    view.addEventListener("pointermove", function (event) {
      const before = fingers.get(event.pointerId);
      if (!before) {
        return;
      }
      const two = fingers.size === 2 ? spread() : null;
      fingers.set(event.pointerId, event);
      moved += Math.abs(event.clientX - before.clientX) + Math.abs(event.clientY - before.clientY);
      if (two) {
        const now = spread();
        pan(two.clientX - now.clientX, two.clientY - now.clientY);
        zoom(now.far / Math.max(two.far, 1), placeOf(now));
      } else if (moved > 4 && (event.pointerType === "mouse" || view.classList.contains("near"))) {
        if (!view.hasPointerCapture(event.pointerId)) {
          view.setPointerCapture(event.pointerId);
        }
        pan(before.clientX - event.clientX, before.clientY - event.clientY);
      }
    });
    for (const name of ["pointerup", "pointercancel"]) {
      view.addEventListener(name, function (event) {
        fingers.delete(event.pointerId);
        view.classList.toggle("held", fingers.size > 0);
      });
    }
    view.addEventListener("click", function (event) {
      const cable = event.target.closest("[data-cable]");
      if (cable && moved <= 4) {
        followCable(cable);
      }
    });
    view.addEventListener(
      "wheel",
      function (event) {
        if (event.ctrlKey) {
          event.preventDefault();
          zoom(event.deltaY < 0 ? STEP : 1 / STEP, placeOf(event));
        }
      },
      { passive: false }
    );
    view.addEventListener("keydown", pressed);

    /* ---- set up */

    button("Zoom in", "Zoom in", () => zoom(STEP));
    button("Zoom out", "Zoom out", () => zoom(1 / STEP));
    button("Whole drawing", "", showAll);
    if (rows.length) {
      const box = make("div", "", { class: "diagram-follow" });
      select.append(make("option", "no net", { value: "" }));
      rows.forEach((row) => select.append(make("option", row.cells[0].textContent, { value: row.dataset.net })));
      select.addEventListener("change", function () {
        followNet(select.value);
        if (followed.length) {
          centre(followed[0]);
        }
      });
      box.append(make("label", "Follow", { for: select.id }), select);
      next.disabled = true;
      next.addEventListener("click", () => walk(1));
      keys.append(box, next);
    }
    cables.forEach(function (cable) {
      cable.setAttribute("tabindex", "-1");
      cable.setAttribute("role", "img");
      cable.setAttribute("aria-label", words(cable));
    });
    svg.setAttribute("role", "group");
    svg.removeAttribute("width");
    svg.removeAttribute("height");
    view.setAttribute("aria-describedby", "diagram-help-" + order);
    const walkKeys = rows.length ? " N and P walk along a followed net, Escape leaves it." : "";
    const help = make("p", "Arrow keys or a finger move the drawing, plus and minus or two fingers zoom, 0 shows all." + walkKeys, { class: "diagram-help", id: "diagram-help-" + order });
    figure.classList.add("ready");
    view.before(keys);
    view.after(says, help);
    if (fit() < SMALLEST) {
      const main = boxes.reduce((best, box) => (!best || box.getBBox().height > best.getBBox().height ? box : best), null);
      whole = false;
      scale = START;
      if (main) {
        centre(main);
      }
    }
    show();
    new ResizeObserver(show).observe(svg);
    let kept = null;
    window.addEventListener("beforeprint", function () {
      kept = svg.getAttribute("viewBox");
      svg.setAttribute("viewBox", [all.x, all.y, all.w, all.h].join(" "));
    });
    window.addEventListener("afterprint", function () {
      if (kept) {
        svg.setAttribute("viewBox", kept);
      }
    });
  }

  Array.from(document.querySelectorAll("[data-diagram]")).forEach(enhance);
})();
