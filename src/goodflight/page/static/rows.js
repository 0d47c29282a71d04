// Ledger rows that open to why, and folds that open for a row inside them and for paper.
import { $ } from "./common.js";
import { query } from "./what_if.js";

export const link = (key) => document.querySelector(`.whylink[data-why="${CSS.escape(key)}"]`);
export function reopen() {
  for (const why of document.querySelectorAll(".why:not(:empty)"))
    htmx.ajax("GET", `/why/${why.id.slice(4)}?${query()}`, { target: why, swap: "innerHTML" });
}
function show(id) {
  const row = id.startsWith("row-") ? $(id) : null, fold = row && row.closest("details.stand");
  if (fold) fold.open = true;
  return row;
}
document.addEventListener("click", (e) => {
  const a = e.target.closest("a.whylink");
  if (!a || e.ctrlKey || e.metaKey || e.shiftKey) return;
  e.preventDefault();
  const why = $("why-" + a.dataset.why), open = a.getAttribute("aria-expanded") === "true";
  a.setAttribute("aria-expanded", String(!open));
  if (open) why.replaceChildren();
  else htmx.ajax("GET", `/why/${a.dataset.why}?${query()}`, { target: why, swap: "innerHTML" });
});
document.addEventListener("click", (e) => {
  const a = e.target.closest('a[href^="#row-"]'), row = a && show(a.getAttribute("href").slice(1));
  if (row) requestAnimationFrame(() => row.querySelector(".whylink").focus({ preventScroll: true }));
});
// A strip's figures: in its title under a pointer, below it after a tap or a click.
document.addEventListener("click", (e) => {
  const strip = e.target.closest(".flights svg.strip");
  if (!strip) return;
  const there = strip.parentElement.querySelector(".reading");
  if (there) { there.remove(); return; }
  const words = document.createElement("p");
  words.className = "reading soft"; words.textContent = strip.getAttribute("aria-label");
  strip.after(words);
});
// What is typed into the boxes of a row stays while the rows are drawn anew: morphSkip, base.html.
document.addEventListener("input", (e) => {
  const boxes = e.target.closest("form.asking-row");
  if (boxes) boxes.dataset.unsaved = "";
});
if (location.hash) show(location.hash.slice(1));
