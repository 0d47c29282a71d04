// Long work, shown: a bar with its share and words, and a button that stops it.
// progress(element, what, share, onStop); share null: words alone; what "": nothing is going on.
export function progress(element, what, share = null, onStop = null) {
  if (!element) return;
  const going = Boolean(what) && share !== null;
  if (!going) {
    const held = element.contains(document.activeElement);
    element.classList.remove("going");
    element.replaceChildren(what || "");
    if (held) { element.tabIndex = -1; element.focus({ preventScroll: true }); }
    return;
  }
  const percent = Math.round(Math.min(Math.max(share, 0), 1) * 100);
  let bar = element.querySelector("[role=progressbar]");
  if (!bar) {
    bar = document.createElement("div");
    bar.className = "bar"; bar.setAttribute("role", "progressbar");
    bar.setAttribute("aria-valuemin", "0"); bar.setAttribute("aria-valuemax", "100");
    bar.setAttribute("aria-label", "working");
    const words = document.createElement("span");
    words.className = "doing";
    const stop = document.createElement("button");
    stop.type = "button"; stop.textContent = "stop"; stop.className = "stop";
    stop.addEventListener("click", () => element.stopWork && element.stopWork());
    element.classList.add("going");
    element.replaceChildren(bar, stop, words);
    bar.append(document.createElement("span"));
  }
  element.stopWork = onStop;
  element.querySelector("button.stop").hidden = !onStop;
  bar.setAttribute("aria-valuenow", percent);
  bar.setAttribute("aria-valuetext", `${what}, ${percent} %`);
  bar.firstChild.style.width = `${percent}%`;
  const words = element.querySelector(".doing");
  const said = `${what}, ${percent}\u00a0%`;
  if (words.textContent !== said) words.textContent = said;
}
export const stopWork = (tab) => fetch("/stop?tab=" + encodeURIComponent(tab), { method: "POST" }).catch(() => null);
