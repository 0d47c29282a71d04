// Curves: the height in the margin, and the flight sheet's bands with single flights.
import { $, data, ink } from "./common.js";
import { query } from "./pencil.js";

const axis = (label, extra) => ({
  stroke: ink("soft"), font: '12px "Source Sans 3"', labelFont: '12px "Source Sans 3"', label, labelSize: 16, labelGap: 0,
  grid: { stroke: ink("faint"), width: 1 }, ticks: { stroke: ink("fine"), width: 1, size: 5 }, ...extra,
});
function events(list, named) {
  return { hooks: { draw: (u) => {
    const { ctx, bbox } = u; ctx.save(); ctx.strokeStyle = ink("fine"); ctx.fillStyle = ink("soft");
    ctx.setLineDash([3, 3]); ctx.font = `${11 * devicePixelRatio}px "Source Sans 3"`; ctx.textAlign = "right";
    let last = -1e9, level = 0;
    for (const e of list) {
      const x = u.valToPos(e.time_s, "x", true);
      if (x < bbox.left || x > bbox.left + bbox.width) continue;
      ctx.beginPath(); ctx.moveTo(x, bbox.top); ctx.lineTo(x, bbox.top + bbox.height); ctx.stroke();
      if (!named) continue;
      level = x - last < 16 * devicePixelRatio ? level + 1 : 0; last = x;
      if (level) continue;
      ctx.save(); ctx.translate(x - 3 * devicePixelRatio, bbox.top + 4 * devicePixelRatio); ctx.rotate(-Math.PI / 2); ctx.fillText(e.words, 0, 0); ctx.restore();
    }
    ctx.restore();
  } } };
}
let small = null;
export function height(curve) {
  const at = $("height");
  if (!at || !curve || !window.uPlot) return;
  const now = curve.now, old = curve.planned;
  const joined = old ? uPlot.join([[now.time_s, now.height], [old.time_s, old.height]]) : [now.time_s, now.height, now.time_s.map(() => null)];
  if (small) { small.setData(joined); return; }
  small = new uPlot({
    width: at.clientWidth || 330, height: 170, legend: { show: false }, cursor: { show: false }, scales: { x: { time: false } },
    axes: [axis("s", { size: 34 }), axis(now.unit, { size: 44 })],
    series: [{}, { stroke: ink("ink"), width: 1.8, spanGaps: true, points: { show: false } }, { stroke: ink("pencil"), width: 1.4, dash: [5, 3], spanGaps: true, points: { show: false } }],
  }, joined, at);
}
let charts = [], flyer = null;
function chart(curve, time, list, at) {
  const box = document.createElement("div"); box.className = "chart";
  const head = document.createElement("h2"); head.textContent = curve.words; box.append(head); at.append(box);
  const line = (stroke, width, more) => ({ stroke, width, points: { show: false }, ...more });
  const singles = curve.flights.map(() => line(ink("fine") + "66", 0.5));
  const u = new uPlot({
    width: box.clientWidth, height: curve.name === "up_m" ? 230 : 170, legend: { show: false },
    cursor: { sync: { key: "flight" }, focus: { prox: 12 }, points: { show: false } }, focus: { alpha: 1 },
    scales: { x: { time: false } }, axes: [axis("s", { size: 34 }), axis(curve.unit, { size: 56 })],
    bands: [{ series: [3, 1], fill: ink("fine") + "38" }],
    series: [{}, line(ink("fine"), 1), line(ink("ink"), 2.2), line(ink("fine"), 1), ...singles],
    plugins: [events(list, curve.name === "up_m")],
    hooks: { setSeries: [(_u, i) => { if (i > 3) pick(i - 4); }] },
  }, [time, ...curve.edges, ...curve.flights], box);
  return u;
}
let picked = -1;
function pick(i) {
  if (i === picked) return;
  for (const u of charts) {
    for (const [n, on] of [[picked, false], [i, true]]) {
      if (n < 0 || !u.series[n + 4]) continue;
      u.series[n + 4].width = on ? 2 : 0.5; u.series[n + 4].stroke = () => (on ? ink("ink") : ink("fine") + "66");
      u.series[n + 4].dash = on ? [6, 3] : undefined;
    }
    u.redraw(false);
  }
  picked = i; $("single").value = i; document.querySelector(".single output").textContent = i + 1;
}
export function fly() {
  const at = $("curves");
  if (!at) return;
  if (flyer) flyer.close();
  const status = $("flying");
  flyer = new EventSource("/flown?" + query({ tab: data.tab + "-flown" }));
  flyer.addEventListener("progress", (e) => { const d = JSON.parse(e.data); status.textContent = `${d.what} …`; });
  flyer.addEventListener("fault", (e) => { flyer.close(); status.textContent = JSON.parse(e.data).words; });
  flyer.onerror = () => flyer.close();
  flyer.addEventListener("done", (e) => {
    flyer.close(); status.textContent = "";
    const got = JSON.parse(e.data);
    for (const u of charts) u.destroy();
    at.replaceChildren(); picked = -1;
    charts = got.bands.curves.map((c) => chart(c, got.bands.time_s, got.bands.events, at));
    $("field").innerHTML = got.field; $("trims").innerHTML = got.trims || "<p>This motor has no delay to trim.</p>";
    document.querySelector(".single").hidden = false;
    at.dataset.drawn = "yes";
  });
}
if ($("single")) $("single").addEventListener("input", (e) => pick(Number(e.target.value)));
if (data.sheet === "flight") addEventListener("load", fly);
