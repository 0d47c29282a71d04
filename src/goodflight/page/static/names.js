// The names of the events along the top of the first chart, in steps so that none stands on another.
import { $ } from "./common.js";

const NS = "http://www.w3.org/2000/svg", GAP = 4;
const mark = (name, more) => { const el = document.createElementNS(NS, name); for (const [k, v] of Object.entries(more)) el.setAttribute(k, v); return el; };
let strip = null;
export function names(u, events, tried) {
  const at = $("curves");
  if (!u || !at) return;
  if (!strip) { strip = mark("svg", { role: "img" }); at.prepend(strip); }
  if (!strip.isConnected) at.prepend(strip);
  strip.replaceChildren();
  strip.setAttribute("class", tried ? "names tried" : "names");
  strip.setAttribute("aria-label", "events: " + events.map((e) => `${e.words} ${e.time}`).join(", "));
  const left = u.bbox.left / devicePixelRatio, right = left + u.bbox.width / devicePixelRatio;
  const inside = [];
  for (const e of events) {
    const x = left + u.valToPos(e.time_s, "x");
    if (x < left - 1 || x > right + 1) continue;
    const text = mark("text", {}); text.textContent = e.words; strip.append(text);
    inside.push({ x, text, wide: text.getComputedTextLength() + GAP });
  }
  const tall = inside.length ? inside[0].text.getBBox().height + 1 : 0, width = u.width;
  const levels = place(inside, width);
  const high = levels * tall + 5;
  strip.setAttribute("width", width); strip.setAttribute("height", high); strip.setAttribute("viewBox", `0 0 ${width} ${high}`);
  for (const e of inside) {
    const base = high - 5 - e.level * tall;
    e.text.setAttribute("x", e.start); e.text.setAttribute("y", base - 2);
    strip.append(mark("path", { d: `M${e.x.toFixed(1)} ${high}V${(base - tall * 0.72).toFixed(1)}` }));
  }
}
// Right to left, each name on the lowest step where it crosses no name and no line of another.
function place(inside, width) {
  const put = [];
  let most = 0;
  for (const e of [...inside].reverse()) {
    e.start = e.x + GAP + e.wide <= width ? e.x + GAP : e.x - GAP - e.wide + 2;
    e.end = e.start + e.wide;
    const free = (level) => put.every((o) => {
      const over = e.start < o.end + GAP && o.start < e.end + GAP;
      if (over && o.level === level) return false;
      if (o.x > e.start - 2 && o.x < e.end && o.level > level) return false;
      return !(e.x > o.start - 2 && e.x < o.end && o.level < level);
    });
    e.level = 0;
    while (!free(e.level) && e.level < 12) e.level += 1;
    most = Math.max(most, e.level);
    put.push(e);
  }
  return inside.length ? most + 1 : 0;
}
