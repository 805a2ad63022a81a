// On every page: the key "/" leads to the field that finds, and the pages opened lately are remembered for the search
// page. Nothing leaves the device. On the search page it stands before search-page.js, which answers "/" there.
"use strict";
(function () {
  const KEY = "benchleaf.recent ";
  const MOST = 12;

  /** The pages opened lately below the address "top", newest first: {url, title, where}, url below top. */
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
  document.addEventListener("keydown", (event) => {
    const field = document.querySelector("[data-find]:not([hidden]) input");
    const isTyping = event.target.closest && event.target.closest("input, select, textarea, [contenteditable]");
    if (event.key !== "/" || !field || isTyping || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    field.focus();
    field.select();
    field.scrollIntoView({ block: "nearest" });
  });
  const top = new URL(script.dataset.top || "..", script.src).href; // the script lies in a folder below the top
  const here = location.href.split(/[?#]/)[0];
  const heading = document.querySelector("h1");
  const said = heading && Array.from(heading.childNodes, (one) => one.textContent).join(" "); // its parts are set apart by style
  const title = (said || document.title).trim().replace(/\s+/g, " ");
  if (!here.startsWith(top) || !title) return;
  const url = here.slice(top.length);
  const machine = document.querySelectorAll(".crumbs li")[1]; // what the page belongs to, unless it is that page itself
  const where = machine && machine.querySelector("a") ? machine.textContent.trim() : "";
  const pages = [{ url, title, where }].concat(recentPages(top).filter((page) => page.url !== url));
  try {
    localStorage.setItem(KEY + top, JSON.stringify(pages.slice(0, MOST)));
  } catch (refused) {
    // storage is off or full: then there is no list
  }
})();
