// A tap on a number in the words of a page opens the table at its foot that says where it comes from. Without script
// the table is there all the same.
"use strict";

document.addEventListener("click", (event) => {
  const number = event.target instanceof Element ? event.target.closest("main data[value]") : null;
  if (!number || number.closest("a, button, summary, label, .value") || window.getSelection().toString()) return;
  const table = document.querySelector("details.numbers");
  if (!table) return;
  const wanted = number.getAttribute("value");
  const row = [...table.querySelectorAll("[data-number]")].find((one) => one.dataset.number === wanted);
  if (!row) return;
  table.open = true;
  row.scrollIntoView({ block: "center" });
  row.focus({ preventScroll: true });
});
