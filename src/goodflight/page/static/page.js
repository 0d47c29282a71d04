// What a page does by itself.
import { $, data } from "./common.js";
import { settings } from "./what_if.js";
import "./rows.js";
import "./curves.js";

const tab = document.querySelector(".tabs [aria-current]"), row = tab?.parentElement;
if (tab) {
  row.scrollLeft = tab.offsetLeft - row.offsetLeft - 48;
  row.addEventListener("focusin", (e) => e.target.scrollIntoView({ block: "nearest", inline: "nearest" }));
}

document.addEventListener("change", (e) => {
  if (e.target.matches("[data-send]")) e.target.form.submit();
  if (e.target.matches("[data-go]")) e.target.form.submit();
});
document.addEventListener("keydown", (e) => {
  const typing = e.target.closest("input:not([type=range]),textarea,select");
  if (typing || !(e.ctrlKey || e.metaKey) || e.key.toLowerCase() !== "z") return;
  const button = $(e.shiftKey ? "redo" : "undo");
  if (button && !button.disabled) { e.preventDefault(); button.click(); }
});

// --- the files ------------------------------------------------------------------------------
let dirty = !!document.querySelector("[data-unsaved]"), watcher = null; // a form sent back
document.addEventListener("input", (e) => { if (e.target.closest("form[method=post]")) dirty = true; });
const trying = () => Object.keys(settings()).length > 0;
function watch() {
  heard = Date.now() + 8500; // a busy machine takes its time for the first word
  changed = false;
  watcher = new EventSource("/watch?hash=" + encodeURIComponent(data.hash));
  for (const each of ["watching", "beat"]) watcher.addEventListener(each, hear);
  watcher.addEventListener("error", () => { heard = Math.min(heard, Date.now()); });
  watcher.addEventListener("changed", () => {
    watcher.close();
    changed = true;
    if (!dirty && !trying()) location.reload();
    else $("elsewhere").hidden = false;
  });
}

// --- the server: a beat comes every half second ------------------------------------------------
let heard = 0, changed = false;
function hear() {
  heard = Date.now();
  if ($("gone").hidden) return;
  $("gone").hidden = true;
  $("again").hidden = false;
  setTimeout(() => { $("again").hidden = true; }, 8000);
}
function listen() {
  if (document.hidden || changed || Date.now() - heard < 1500) return;
  $("gone").hidden = false;
  $("again").hidden = true;
  if (watcher.readyState === EventSource.CLOSED) watch(); // refused once: a browser asks no more
}
if (data.page !== "code") {
  $("port").textContent = location.port;
  watch(); // a tab out of sight lets go: a browser keeps six connections to one server, for all tabs
  document.addEventListener("visibilitychange", () => { watcher.close(); if (!document.hidden) watch(); });
  setInterval(listen, 250);
}
