// What the sheets do by themselves: watch the files, move the pencil, open rows, draw curves.
"use strict";
(() => {
  const body = document.body, root = document.documentElement;
  const $ = (id) => document.getElementById(id);
  const data = body.dataset;
  const narrow = matchMedia("(max-width: 820px)");
  const ink = (name) => getComputedStyle(root).getPropertyValue("--" + name).trim();
  window.goodflight = { moves: [] };

  // --- forms that send themselves -----------------------------------------------------------
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
  let dirty = false, watcher = null;
  document.addEventListener("input", (e) => { if (e.target.closest("form[method=post]")) dirty = true; });
  const trying = () => pencil && Object.keys(settings()).length > 0;
  function watch() {
    watcher = new EventSource("/watch?hash=" + encodeURIComponent(data.hash));
    watcher.addEventListener("changed", () => {
      watcher.close();
      if (!dirty && !trying()) location.reload();
      else $("elsewhere").hidden = false;
    });
  }
  if (data.sheet !== "code") watch();

  // --- the pencil -----------------------------------------------------------------------------
  const pencil = $("pencil");
  const parse = (input) => ({ ids: JSON.parse(input.dataset.ids), labels: JSON.parse(input.dataset.labels) });
  function settings() {
    const found = {};
    for (const input of pencil.querySelectorAll("input[type=range],select")) {
      const key = input.id.slice(4);
      if (input.value !== input.dataset.now) found[key] = input.type === "range" ? parse(input).ids[input.value] : input.value;
    }
    return found;
  }
  function query(more) {
    const q = new URLSearchParams();
    if (data.plan) q.set("plan", data.plan);
    for (const [k, v] of Object.entries(pencil ? settings() : {})) q.set(k, v);
    const order = new URLSearchParams(location.search).get("order");
    if (order) q.set("order", order);
    for (const [k, v] of Object.entries(more || {})) q.set(k, v);
    return q.toString();
  }
  let moving = null, again = 0, rest = 0, stream = null;
  const say = (words) => { const p = $("working"); if (p) p.textContent = words; body.classList.toggle("busy", !!words); };
  function mark(input) {
    const row = input.closest(".control"), changed = input.value !== input.dataset.now;
    row.classList.toggle("changed", changed);
    if (input.type !== "range") { row.querySelector(".old").textContent = changed ? "was " + input.dataset.now : ""; return; }
    const { labels } = parse(input);
    row.querySelector("output").textContent = labels[input.value];
    row.querySelector(".old").textContent = changed ? "was " + labels[input.dataset.now] : "";
    input.setAttribute("aria-valuetext", labels[input.value]);
  }
  function put(parts) {
    const open = new Map(), focus = document.activeElement && document.activeElement.id;
    const focusWhy = document.activeElement && document.activeElement.dataset ? document.activeElement.dataset.why : null;
    for (const why of document.querySelectorAll(".why:not(:empty)")) open.set(why.id, [...why.childNodes]);
    for (const [id, html] of Object.entries(parts)) { const el = $(id); if (el) el.innerHTML = html; }
    for (const [id, nodes] of open) {
      const why = $(id);
      if (why) { why.replaceChildren(...nodes); link(id.slice(4))?.setAttribute("aria-expanded", "true"); }
    }
    if (focus && $(focus) && document.activeElement !== $(focus)) $(focus).focus({ preventScroll: true });
    else if (focusWhy) link(focusWhy)?.focus({ preventScroll: true });
  }
  const link = (key) => document.querySelector(`.whylink[data-why="${CSS.escape(key)}"]`);
  async function move(start, controls) {
    if (moving) { again = again || start; return; }
    moving = new AbortController();
    try {
      const answer = await fetch("/moved?" + query({ tab: data.tab, on: data.sheet, ...(controls ? { controls: 1 } : {}) }), { signal: moving.signal });
      if (!answer.ok) throw new Error(await answer.text());
      const got = await answer.json();
      if (got.fault) { say(got.fault); return; }
      put(got.parts); height(got.curve);
      requestAnimationFrame(() => {
        const took = performance.now() - start;
        window.goodflight.moves.push(took);
        data.latency = took.toFixed(0);
      });
    } catch (error) { if (error.name !== "AbortError") say("The server did not answer: " + error.message.slice(0, 200)); }
    finally { moving = null; if (again) { const since = again; again = 0; move(since); } }
  }
  function settle() {
    if (stream) stream.close();
    say("flying all draws");
    stream = new EventSource("/settled?" + query({ tab: data.tab, on: data.sheet }));
    stream.addEventListener("progress", (e) => { const d = JSON.parse(e.data); say(`${d.what}, ${Math.round(d.share * 100)} %`); });
    stream.addEventListener("done", (e) => {
      stream.close(); say("");
      const got = JSON.parse(e.data);
      put(got.parts); height(got.curve); reopen();
      const desk = document.querySelector(".desk"); if (desk) desk.dataset.full = "yes";
    });
    stream.addEventListener("fault", (e) => { stream.close(); say(JSON.parse(e.data).words); });
    stream.addEventListener("superseded", () => { stream.close(); say(""); });
    stream.onerror = () => { stream.close(); say(""); };
  }
  function moved(input, controls) {
    mark(input);
    if (stream) stream.close();
    clearTimeout(rest);
    const desk = document.querySelector(".desk"); if (desk) desk.dataset.full = "no";
    move(performance.now(), controls);
    const q = query();
    history.replaceState(null, "", location.pathname + (q ? "?" + q : ""));
    for (const a of document.querySelectorAll("a[data-keep]")) a.href = a.dataset.keep + (q ? "?" + q : "");
    rest = setTimeout(() => { settle(); if (data.sheet === "flight") fly(); }, 550);
  }
  if (pencil) {
    if (narrow.matches) pencil.closest("details").open = trying();
    pencil.addEventListener("input", (e) => { if (e.target.type === "range") moved(e.target, false); });
    pencil.addEventListener("change", (e) => { if (e.target.tagName === "SELECT") moved(e.target, true); });
    pencil.addEventListener("submit", (e) => e.preventDefault());
    const desk = document.querySelector(".desk");
    if (desk && desk.dataset.full === "no") settle();
    if (data.sheet === "ledger") fetch("/height?" + query()).then((r) => (r.ok ? r.json() : null)).then(height, () => null);
  }

  // --- rows that open -------------------------------------------------------------------------
  function reopen() {
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

  // --- curves -----------------------------------------------------------------------------------
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
  function height(curve) {
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
  function fly() {
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
})();
