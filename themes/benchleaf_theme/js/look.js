/* Light or dark: as the device says, or as the reader says with the switch in the head. Runs before the page is drawn. */
"use strict";
(function () {
  const KEY = "benchleaf.look";
  const LOOKS = ["device", "light", "dark"];
  const WORDS = { device: "as set", light: "light", dark: "dark" };
  const root = document.documentElement;
  root.classList.add("scripted");

  function kept() {
    try {
      const look = localStorage.getItem(KEY);
      return LOOKS.includes(look) ? look : "device";
    } catch (refused) {
      return "device";
    }
  }

  let look = kept();

  function show() {
    if (look === "device") {
      delete root.dataset.look;
    } else {
      root.dataset.look = look;
    }
    const words = document.querySelector("[data-look-now]");
    if (words) {
      words.textContent = WORDS[look];
    }
  }

  show();
  document.addEventListener("DOMContentLoaded", function () {
    show();
    const find = document.querySelector("[data-find]");
    if (find) {
      find.hidden = false;
    }
    const button = document.querySelector("[data-look-switch]");
    if (!button) {
      return;
    }
    button.hidden = false;
    button.addEventListener("click", function () {
      look = LOOKS[(LOOKS.indexOf(look) + 1) % LOOKS.length];
      try {
        localStorage.setItem(KEY, look);
      } catch (refused) {
        /* the choice then lasts for this page only */
      }
      show();
    });
  });
})();
