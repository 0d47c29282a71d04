// Ledger rows that open to why.
import { $ } from "./common.js";
import { query } from "./pencil.js";

export const link = (key) => document.querySelector(`.whylink[data-why="${CSS.escape(key)}"]`);
export function reopen() {
  for (const why of document.querySelectorAll(".why:not(:empty)"))
    htmx.ajax("GET", `/why/${why.id.slice(4)}?${query()}`, { target: why, swap: "innerHTML" });
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
