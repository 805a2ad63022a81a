// Remembers the pages opened lately in this browser, for the search page. Nothing leaves the device.
// Goes on every page; on the search page it stands before search-page.js.
"use strict";
(function () {
  const KEY = "benchleaf.recent ";
  const MOST = 12;

  /** The pages opened lately below the address "top", newest first: {url, title}, url below top. */
  function recentPages(top) {
    try {
      const kept = JSON.parse(localStorage.getItem(KEY + top) || "[]");
      return kept.filter((page) => page && typeof page.url === "string" && typeof page.title === "string" &&
        new URL(page.url, top).href.startsWith(top)).slice(0, MOST);
    } catch (refused) {
      return [];
    }
  }

  globalThis.benchleafSearch = Object.assign(globalThis.benchleafSearch || {}, { recentPages });
  const script = document.currentScript;
  if (document.querySelector("[data-search]") || !script) return;
  const top = new URL(script.dataset.top || "..", script.src).href; // the script lies in a folder below the top
  const here = location.href.split(/[?#]/)[0];
  const heading = document.querySelector("h1");
  const title = ((heading && heading.textContent) || document.title).trim().replace(/\s+/g, " ");
  if (!here.startsWith(top) || !title) return;
  const url = here.slice(top.length);
  const pages = [{ url, title }].concat(recentPages(top).filter((page) => page.url !== url));
  try {
    localStorage.setItem(KEY + top, JSON.stringify(pages.slice(0, MOST)));
  } catch (refused) {
    // storage is off or full: then there is no list
  }
})();
