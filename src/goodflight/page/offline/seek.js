// Find it: what is entered, kept over a reload, and what the search makes of it.
{
  const find = JSON.parse(at("search").textContent);
  const box = (key) => at(`s-${key}`);
  const KEY = `goodflight find ${data.stamp}`;
  const DEG = Math.PI / 180;
  const { unit, m, area, areas } = find.units;
  const BOXES = ["wind", "wind-error", "from", "from-error", "tilt", "azimuth", ...Object.keys(find.events),
    ...[1, 2, 3].flatMap((n) => ["bearing", "kind", "when", "place"].map((each) => each + n)), "declination", "cover", "people", "pad"];
  let entered = {};
  let answer = null;
  let ticking = 0;
  try {
    entered = JSON.parse(localStorage.getItem(KEY) || "{}");
  } catch {
    entered = {};
  }

  function remember() {
    try {
      localStorage.setItem(KEY, JSON.stringify(entered));
    } catch {
      at("kept").hidden = false;
    }
  }

  // --- figures ---
  const long = (metres) => `${Math.round(metres / m)}\u00a0${unit}`;
  const ground = (m2) => `${(m2 / area).toFixed(1)}\u00a0${areas}`;
  const percent = (share) => (share < 0.001 ? "under 0.1\u00a0%" : share < 0.1 ? `${(100 * share).toFixed(1)}\u00a0%` : `${Math.round(100 * share)}\u00a0%`);
  const side = (angle) => find.sides[((Math.round(angle / (Math.PI / 4)) % 8) + 8) % 8];
  const minutes = (seconds) => {
    const whole = Math.round(seconds / 60);
    return whole < 90 ? `${whole}\u00a0min` : `${Math.floor(whole / 60)}\u00a0h ${String(whole % 60).padStart(2, "0")}\u00a0min`;
  };
  const { degrees } = search;
  const polar = ([east, north]) => `${degrees(Math.atan2(east, north))} ${long(Math.hypot(east, north))}`;

  // --- what is entered ---
  function number(key, faults, wanted, low, high, usual = null) {
    const text = box(key).value.trim().replace(",", ".").replace("\u2212", "-");
    if (!text) return usual;
    const value = Number(text);
    if (!Number.isFinite(value) || value < low || value > high) {
      faults.push(`"${box(key).value.trim()}": ${wanted}`);
      return usual;
    }
    return value;
  }

  function pair(key, faults, wanted) {
    const text = box(key).value.trim().replaceAll("\u2212", "-");
    if (!text) return null;
    const parts = text.split(/[,;]\s*/).map(Number);
    if (parts.length === 2 && parts.every(Number.isFinite) && text.match(/\d/g)) return parts;
    faults.push(`"${text}": ${wanted}`);
    return null;
  }

  function declination(faults) {
    const text = box("declination").value.trim();
    if (!text) return null;
    const match = text.match(/^([\d.,]+)\s*(?:deg|\u00b0)?\s*(e|east|w|west)$/i);
    if (!match) {
      faults.push(`declination "${text}": an angle and a side, like 3 east, from a map of this year`);
      return null;
    }
    return Number(match[1].replace(",", ".")) * DEG * (match[2][0].toLowerCase() === "e" ? 1 : -1);
  }

  function read() {
    const faults = [];
    const speed = find.speed[1];
    const shown = number("wind", faults, "a wind, 0 or more", 0, 100);
    const chosenWind = Number.parseFloat(data.winds[chosen[1]]);
    const wind = (shown ?? chosenWind) * speed;
    const spread = number("wind-error", faults, "0 or more", 0, 100);
    const turned = declination(faults);
    const timed = [];
    for (const [event, label] of Object.entries(find.events)) {
      const time = number(event, faults, `${label}: seconds after lift-off, more than 0`, 0.01, 36000);
      if (time !== null) timed.push({ event, label, time, error: find.errors.watch });
    }
    const when = Object.fromEntries(timed.map((each) => [each.event, each.time]));
    const order = [["ejection", "canopy"], ...["last_seen", "landing"].flatMap((last) => ["apogee", "ejection", "canopy"].map((each) => [each, last])), ["last_seen", "landing"]];
    for (const [first, then] of order) {
      if (first in when && then in when && when[then] < when[first]) {
        faults.push(`${find.events[then]} before ${find.events[first]}: check the watch; all times are after lift-off`);
        break;
      }
    }
    if (entered.shut && "canopy" in when) faults.push("a full canopy and nothing open: leave out what was not seen");
    const sights = [];
    for (const n of [1, 2, 3]) {
      const bearing = number(`bearing${n}`, faults, "a bearing, 0 to 360", 0, 360);
      const from = pair(`place${n}`, faults, "metres east and north of the pad, like -60, 40") ?? [0, 0];
      if (bearing === null) continue;
      const kind = box(`kind${n}`).value, last = box(`when${n}`).value === "last";
      if (kind === "compass" && turned === null) faults.push("a compass bearing needs the declination, from a map of this year; or give a true bearing");
      if (last && !("last_seen" in when)) faults.push("a bearing when it was last seen needs the time of that: lost sight");
      const who = from[0] || from[1] ? `observer ${n}` : "pad";
      sights.push({ who, from, bearing: bearing * DEG + (kind === "compass" ? (turned ?? 0) : 0), error: find.errors[kind], last: last ? when.last_seen : null });
    }
    const azimuth = number("azimuth", faults, "a bearing, 0 to 360", 0, 360);
    const cover = find.covers.find(([key]) => key === box("cover").value);
    const asked = {
      wind, windError: spread === null ? (find.wind.share ? find.wind.share * wind : find.wind.error) : spread * speed,
      from: number("from", faults, "a bearing, 0 to 360", 0, 360, find.wind.from) * DEG,
      fromError: number("from-error", faults, "0 to 90", 0, 90, find.wind.fromError) * DEG,
      tilt: number("tilt", faults, "a lean, 0 to 10", 0, 10, find.tilt) * DEG,
      azimuth: azimuth === null ? (find.azimuth === null ? null : find.azimuth * DEG) : azimuth * DEG,
      opened: "canopy" in when ? true : entered.shut ? false : null,
      timed, sights, cover, spacing: cover[2], people: number("people", faults, "how many walk, 1 or more", 1, 99, 1),
      measured: shown !== null, pad: pair("pad", faults, "longitude, latitude in degrees; longitude first"),
    };
    if (asked.pad && !(Math.abs(asked.pad[0]) <= 180 && Math.abs(asked.pad[1]) <= 85)) {
      faults.push("the pad: longitude, latitude in degrees; longitude first");
      asked.pad = null;
    }
    return [asked, [...new Set(faults)]];
  }

  // --- by latitude: last light, and the size of a degree ---
  function between(latitude, value) {
    const { first, step, latitudes } = find.evenings;
    const place = (latitude - first) / step, low = Math.floor(place);
    if (low < 0 || low >= latitudes - 1) return null;
    return [value(low), value(low + 1), place - low];
  }

  function sinks(table, latitude, now) {
    const { every, never, latitudes } = find.evenings;
    find.evenings.ready ??= search.whole(find.evenings.minutes);
    const days = find.evenings.ready.length / (2 * latitudes);
    const day = (Date.UTC(now.getFullYear(), now.getMonth(), now.getDate()) - Date.UTC(now.getFullYear(), 0, 1)) / 864e5;
    const low = Math.floor(day / every), part = day / every - low;
    const value = (lat) => {
      const two = [0, 1].map((k) => find.evenings.ready[(table * latitudes + lat) * days + low + k]);
      return two.includes(never) ? NaN : two[0] * (1 - part) + two[1] * part;
    };
    const found = between(latitude, value);
    return found === null ? NaN : found[0] * (1 - found[2]) + found[1] * found[2];
  }

  function lightWords(pad) {
    if (!pad) return "Last light is not known: enter the pad's longitude and latitude.";
    const now = new Date();
    const [sunset, last] = [0, 1].map((table) => sinks(table, pad[1], now) - 4 * pad[0] - now.getTimezoneOffset());
    if (!Number.isFinite(last)) return "Last light is not worked out here: the sun hardly sinks that evening, or the pad is beyond 62 deg north or south.";
    const left = last - (60 * now.getHours() + now.getMinutes());
    const clock = (at) => {
      const whole = ((Math.round(at) % 1440) + 1440) % 1440;
      return `${String(Math.floor(whole / 60)).padStart(2, "0")}:${String(whole % 60).padStart(2, "0")}`;
    };
    if (left <= 0) return `It is past last light (${clock(last)}): search tomorrow.`;
    return `Sunset ${clock(sunset)}, last light ${clock(last)}: ${minutes(60 * left)} left by this phone's clock, the way back included.`;
  }

  function lonlat(pad, [east, north]) {
    const [low, high, part] = between(pad[1], (i) => find.evenings.degree_m[i]) ?? [null, null, 0];
    if (!low) return null;
    return [0, 1].map((k) => pad[k] + (k ? north : east) / (low[k] * (1 - part) + high[k] * part));
  }

  // --- what is said ---
  function tell() {
    const [asked, faults] = read();
    box("fault").hidden = !faults.length;
    box("fault").textContent = faults.join(". ");
    const flown = find.carried[entered.flown ?? usual()];
    flownPicks();
    box("wind").placeholder = data.winds[chosen[1]].split(/\s/)[0];
    const said = box("answer"), first = box("first");
    const hidden = faults.length > 0;
    for (const key of ["map", "key", "all", "steps", "gpx"]) box(key).hidden = hidden;
    said.replaceChildren();
    first.textContent = "";
    if (hidden) {
      answer = null;
      return;
    }
    const pad = asked.pad ?? find.pad;
    answer = { ...search.look(find, flown, asked), asked, pad };
    const where = Math.atan2(...answer.middle);
    first.textContent = `Look ${long(Math.hypot(...answer.middle))} from the pad, ${side(where)}, bearing ${degrees(where)} true: 9 in 10 of the flights that agree come down on ${ground(answer.area)}, half of them on ${ground(answer.half)}.`;
    for (const { from, who } of asked.sights) {
      if (who === "pad") continue;
      const off = answer.middle.map((each, k) => each - from[k]);
      line("p", `From ${who}: ${long(Math.hypot(...off))}, bearing ${degrees(Math.atan2(...off))} true.`, said);
    }
    for (const step of answer.steps) {
      if (step.odd !== null && step.odd < find.odd) line("p", `${step.words}: hardly any flight does this, with what was entered before it. Check watch and bearing; if they are right, walk along the bearing, beyond the patch on both sides.`, said).className = "never";
    }
    if (answer.effective < find.few) line("p", "Hardly any of the flights in this file agree with everything entered: the patch is drawn with all errors taken wider. Search along the bearings first.", said).className = "never";
    if (!asked.measured) line("p", find.planned.replace("the plan's", "the one chosen above"), said).className = "small";
    line("p", `How it came down: ${find.kinds.map((kind, i) => `${kind} ${percent(answer.ways[i])}`).join(", ")}.`, said);
    line("p", lightWords(pad), said);
    line("p", lanesWords(asked), said);
    if (!pad) line("p", `${find.noGpx}.`, said).className = "small";
    box("gpx").hidden = !pad || !lonlat(pad, [0, 0]);
    rows("lanes", answer.lanes.map((lane, i) => [i + 1, polar(lane.start), polar(lane.end), long(lane.length)]));
    rows("shrinks", answer.steps.map((step) => [step.words, ground(step.area), step.odd !== null && step.odd < find.odd ? "contradicts" : ""]));
    draw();
  }

  function lanesWords(asked) {
    if (!answer.lanes.length) return "The patch is smaller than one lane: walk to its middle.";
    const more = answer.leftOut ? ` ${answer.leftOut} further lanes are not listed: bring more people, or one more bearing.` : "";
    return `${answer.lanes.length} lanes along ${degrees(answer.bearing)} and back ${degrees(answer.bearing + Math.PI)} true, ${long(asked.spacing)} apart (${asked.cover[1]}; ${find.practice}). ${asked.people} walking: about ${minutes(answer.walk_s)} for all; the first holds ${percent(answer.lanes[0].share)}.${more}`;
  }

  function rows(key, cells) {
    box(key).replaceChildren();
    for (const each of cells) {
      const row = line("tr", "", box(key));
      for (const cell of each) line("td", cell, row);
    }
  }

  function usual() { // the motor and delay chosen above, where the file carries them
    const [motor, , , out] = chosen;
    const place = find.carried.findIndex((each) => each.motor === motor && Number.parseFloat(data.outs[motor][out]) === each.out);
    return Math.max(place, 0);
  }

  function flownPicks() {
    picks("s-flown", find.carried.map((each) => each.name), entered.flown ?? usual(), (i) => i, (i) => {
      entered.flown = i;
      changed();
    });
  }

  // --- the map ---
  function draw() {
    const canvas = box("map"), pen = canvas.getContext("2d"), size = canvas.width;
    const ink = (name) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();
    const marks = [...answer.points, [0, 0], ...find.outline];
    const [low, high] = [Math.min, Math.max].map((pick) => [0, 1].map((k) => marks.reduce((a, p) => pick(a, p[k]), pick === Math.min ? Infinity : -Infinity)));
    const scale = (0.9 * size) / Math.max(high[0] - low[0], high[1] - low[1], 20);
    const middle = [0, 1].map((k) => 0.5 * (low[k] + high[k]));
    const to = ([east, north]) => [0.5 * size + (east - middle[0]) * scale, 0.5 * size - (north - middle[1]) * scale];
    const back = (x, y) => [middle[0] + (x - 0.5 * size) / scale, middle[1] - (y - 0.5 * size) / scale];
    pen.fillStyle = ink("--paper");
    pen.fillRect(0, 0, size, size);
    const [light, dark] = [ink("--faint"), ink("--fine")];
    for (let y = 0; y < size; y += 3)
      for (let x = 0; x < size; x += 3) {
        const place = back(x + 1.5, y + 1.5);
        if (!answer.in90(...place)) continue;
        pen.fillStyle = answer.in50(...place) ? dark : light;
        pen.fillRect(x, y, 3, 3);
      }
    const path = (points, width, dash, closed) => {
      pen.beginPath();
      points.forEach((p, i) => (i ? pen.lineTo(...to(p)) : pen.moveTo(...to(p))));
      if (closed) pen.closePath();
      pen.lineWidth = width;
      pen.setLineDash(dash);
      pen.stroke();
    };
    pen.strokeStyle = pen.fillStyle = ink("--ink");
    pen.font = "600 24px 'Source Sans 3', sans-serif";
    path(find.outline, 2.5, [], true);
    for (const [name, ring] of find.areas) {
      path(ring, 1.5, [8, 6], true);
      const [x, y] = to([0, 1].map((k) => ring.reduce((sum, p) => sum + p[k], 0) / ring.length));
      if (x > 0 && y > 0 && x < size && y < size) pen.fillText(name, Math.min(Math.max(x - 30, 4), size - pen.measureText(name).width - 4), y);
    }
    for (const { from, bearing } of answer.asked.sights) path([from, [from[0] + 5000 * Math.sin(bearing), from[1] + 5000 * Math.cos(bearing)]], 2, [18, 10], false);
    answer.lanes.forEach((lane, i) => {
      path([lane.start, lane.end], 1.2, [], false);
      if (i < 6) pen.fillText(i + 1, to(lane.start)[0] - 8, to(lane.start)[1] + 8);
    });
    const [x, y] = to([0, 0]);
    path([back(x - 14, y), back(x + 14, y)], 4, [], false);
    path([back(x, y - 14), back(x, y + 14)], 4, [], false);
    pen.fillText("pad", x + 16, y + 26);
    const bar = [1000, 500, 200, 100, 50, 20, 10].find((each) => each * m * scale < 0.35 * size) ?? 10;
    path([back(20, size - 20), back(20 + bar * m * scale, size - 20)], 4, [], false);
    pen.fillText(`${bar} ${unit}`, 30 + bar * m * scale, size - 12);
    canvas.setAttribute("aria-label", box("first").textContent);
  }

  // --- lanes as a file ---
  function gpx() {
    const place = (p, tag, name) => {
      const [lon, lat] = lonlat(answer.pad, p);
      return `<${tag} lat="${lat.toFixed(7)}" lon="${lon.toFixed(7)}">${name ? `<name>${name}</name>` : ""}</${tag}>`;
    };
    const text = (words) => words.replace(/&/g, "&amp;").replace(/</g, "&lt;");
    const lanes = answer.lanes.map((lane, i) => `<rte><name>lane ${i + 1}, ${degrees(answer.bearing)}</name>${place(lane.start, "rtept")}${place(lane.end, "rtept")}</rte>`);
    return `<?xml version="1.0" encoding="UTF-8"?>\n<gpx version="1.1" creator="goodflight" xmlns="http://www.topografix.com/GPX/1/1">\n<metadata><name>${text(find.rocket)}</name><desc>${text(box("first").textContent)}</desc></metadata>\n${[place([0, 0], "wpt", "pad"), place(answer.middle, "wpt", "middle of the patch"), ...lanes].join("\n")}\n</gpx>\n`;
  }

  box("gpx").addEventListener("click", () => {
    const made = document.createElement("a");
    made.href = URL.createObjectURL(new Blob([gpx()], { type: "application/gpx+xml" }));
    made.download = "lanes.gpx";
    made.click();
    setTimeout(() => URL.revokeObjectURL(made.href), 10000);
  });

  // --- clock and boxes ---
  const seconds = () => (Date.now() - entered.liftoff) / 1000;
  const stamps = document.querySelectorAll("[data-stamp]");

  function running() {
    clearInterval(ticking);
    for (const each of stamps) each.disabled = !entered.liftoff;
    box("liftoff").textContent = entered.liftoff ? "lift-off again" : "lift-off now";
    const show = () => (box("clock").textContent = entered.liftoff ? `${seconds().toFixed(1)}\u00a0s` : "0.0\u00a0s");
    show();
    if (entered.liftoff && seconds() < 3600 && at("finding").open) ticking = setInterval(show, 100);
  }

  function changed() {
    remember();
    if (at("finding").open) tell();
  }

  box("liftoff").addEventListener("click", () => {
    entered.liftoff = Date.now();
    for (const event of Object.keys(find.events)) {
      entered[event] = box(event).value = "";
    }
    running();
    changed();
  });
  for (const each of stamps) {
    each.addEventListener("click", () => {
      entered[each.dataset.stamp] = box(each.dataset.stamp).value = seconds().toFixed(1);
      changed();
    });
  }
  function fill() {
    for (const key of BOXES) {
      if (key in entered) box(key).value = entered[key];
      else if (box(key).tagName === "SELECT") box(key).selectedIndex = 0;
      else box(key).value = "";
    }
    box("shut").setAttribute("aria-pressed", String(!!entered.shut));
    running();
  }
  for (const key of BOXES) {
    box(key).addEventListener("change", () => {
      entered[key] = box(key).value;
      changed();
    });
  }
  box("shut").addEventListener("click", () => {
    entered.shut = !entered.shut;
    box("shut").setAttribute("aria-pressed", String(entered.shut));
    changed();
  });
  pressTwice(box("clear"), "press again to clear every entry", () => {
    entered = { open: true };
    fill();
    changed();
  });
  at("finding").addEventListener("toggle", () => {
    entered.open = at("finding").open;
    running();
    changed();
  });
  for (const [key, usualText] of [["wind-error", ""], ["from", find.wind.from], ["from-error", Math.round(find.wind.fromError)], ["tilt", find.tilt], ["azimuth", find.azimuth === null ? "into wind" : Math.round(find.azimuth)]]) {
    box(key).placeholder = usualText;
  }
  box("speed").textContent = find.speed[0];
  if (find.pad) box("pad").placeholder = find.pad.map((each) => each.toFixed(4)).join(", ");
  at("seek").hidden = false;
  fill();
  at("finding").open = !!entered.open;
  watchers.push(() => at("finding").open && tell());
}
