// The search in a file: flights flown beforehand are put together for the day as it was, weighted
// by what was seen, and smoothed to a patch. Each step is the program's own, by the name given.
const search = (() => {
  const TURN = 2 * Math.PI;

  function bytes(text) {
    const raw = atob(text);
    const found = new Uint8Array(raw.length);
    for (let i = 0; i < raw.length; i++) found[i] = raw.charCodeAt(i);
    return found.buffer;
  }
  const whole = (text) => new Int16Array(bytes(text));

  // studies/finding/carried.py, flock_of
  function flockOf(find, carried, day) {
    const { winds, fields, each, never, counts, shares } = find;
    carried.ready ??= { nodes: whole(carried.nodes), exponent: whole(carried.exponent), leaned: whole(carried.leaned) };
    find.ready ??= whole(find.scores);
    const { nodes, exponent, leaned } = carried.ready;
    const pairs = find.ready.length / 2;
    const flights = counts.reduce((a, b) => a + b);
    const size = flights * each;
    const flock = { size, kind: new Uint8Array(size), prior: new Float64Array(size), exponent: new Float64Array(size) };
    const names = Object.keys(fields);
    for (const name of names) flock[name] = new Float64Array(size);
    const there = counts.map(() => 0);
    for (let n = 0, kind = 0, first = 0; n < flights; n++) {
      while (n >= first + counts[kind]) first += counts[kind++];
      for (let k = 0; k < each; k++) {
        const i = n * each + k;
        const pair = 2 * (i % pairs);
        const wind = Math.max(Math.abs(day.wind + day.windError * find.scoreStep * find.ready[pair]), find.calm);
        const from = day.from + day.fromError * find.scoreStep * find.ready[pair + 1];
        const way = day.azimuth === null ? 0 : day.azimuth - from;
        let low = winds.length - 2;
        while (low > 0 && wind <= winds[low]) low--;
        const part = (wind - winds[low]) / (winds[low + 1] - winds[low]);
        const lean = day.tilt / find.lean, turns = [lean * Math.cos(way), lean * Math.sin(way)];
        names.forEach((name, f) => {
          const place = (n * winds.length + low) * names.length + f;
          const a = nodes[place], b = nodes[place + names.length];
          let at = a === never || b === never ? NaN : (1 - part) * a + part * b;
          turns.forEach((turn, k) => {
            const [c, d] = [low, low + 1].map((w) => leaned[((kind * winds.length + w) * 2 + k) * names.length + f]);
            at += turn * ((1 - part) * c + part * d);
          });
          flock[name][i] = at * fields[name];
        });
        for (const end of ["turned_", ""]) {
          const x = flock[`${end}east_m`][i];
          const y = flock[`${end}north_m`][i];
          flock[`${end}east_m`][i] = x * Math.cos(from) + y * Math.sin(from);
          flock[`${end}north_m`][i] = y * Math.cos(from) - x * Math.sin(from);
        }
        flock.kind[i] = kind;
        flock.exponent[i] = exponent[n] * find.exponentStep;
        if (Number.isFinite(flock.landing[i])) there[kind]++;
      }
    }
    for (let i = 0; i < size; i++) {
      const kind = flock.kind[i];
      flock.prior[i] = Number.isFinite(flock.landing[i]) ? shares[kind] / Math.max(there[kind], 1) : 0;
    }
    flock.turned_s = flock.ejection.map((at, i) => (flock.kind[i] === 2 ? flock.apogee[i] : at));
    return flock;
  }

  // physics/sightings.py
  const TAIL = [-1.26551223, 1.00002368, 0.37409196, 0.09678418, -0.18628806, 0.27886807, -1.13520398, 1.48851587, -0.82215223, 0.17087277];
  function logTail(z) { // logarithm of the share of a normal population beyond z >= 0, to 2e-7
    const x = z / Math.SQRT2, t = 1 / (1 + 0.5 * x);
    return Math.log(0.5 * t) - x * x + TAIL.reduceRight((sum, each) => sum * t + each, 0);
  }
  const below = (z) => (z < 0 ? Math.exp(logTail(-z)) : 1 - Math.exp(logTail(z)));
  const logBelow = (z) => (z < 0 ? logTail(-z) : Math.log1p(-Math.exp(logTail(z))));
  const turned = (angle) => angle - TURN * Math.floor(angle / TURN + 0.5);
  const sight = (east, north, from) => Math.atan2(east - from[0], north - from[1]);

  function seenAt(flock, i, time) { // descent_place_m
    const left = Math.min(Math.max((flock.landing[i] - time) / (flock.landing[i] - flock.turned_s[i]), 0), 1);
    const share = left ** (1 + flock.exponent[i]);
    return [
      flock.east_m[i] - (flock.east_m[i] - flock.turned_east_m[i]) * share,
      flock.north_m[i] - (flock.north_m[i] - flock.turned_north_m[i]) * share,
    ];
  }

  // studies/finding/flock.py, entries_of: each with the logarithm of a flight's weight
  function entriesOf(seen) {
    const found = [];
    if (seen.opened !== null) {
      const fits = (flock, i) => (flock.kind[i] === 0) === seen.opened;
      found.push({ words: seen.opened ? "canopy seen open" : "no canopy seen open", log: (flock, i) => (fits(flock, i) ? 0 : -Infinity), fits });
    }
    for (const { event, label, time, error } of seen.timed) {
      const words = `${label} at ${time.toFixed(1)} s`;
      if (event === "last_seen") {
        found.push({ words, log: (flock, i) => logBelow((flock.landing[i] - time) / error), fits: (flock, i) => flock.landing[i] > time - 2 * error });
      } else {
        found.push(sharp(words, (flock, i) => flock[event][i] - time, error, false));
      }
    }
    for (const { who, from, bearing, error, last } of seen.sights) {
      const off = (flock, i) => {
        const [east, north] = last === null ? [flock.east_m[i], flock.north_m[i]] : seenAt(flock, i, last);
        return turned(sight(east, north, from) - bearing);
      };
      found.push(sharp(`${last === null ? "landing" : "last seen"} on ${degrees(bearing)} true from ${who}`, off, error, true));
    }
    return found;
  }

  function sharp(words, off, error, circle) {
    const log = (flock, i) => {
      const away = off(flock, i) / error;
      return Number.isFinite(away) ? -0.5 * away * away : -Infinity;
    };
    return { words, log, off, error, circle };
  }

  function tail(entry, flock, weights) { // tail_share
    let known = 0, sine = 0, cosine = 0, mean = 0, found = 0;
    const offs = new Float64Array(flock.size);
    for (let i = 0; i < flock.size; i++) {
      if (!(weights[i] > 0)) continue;
      if (entry.fits) {
        if (entry.fits(flock, i)) found += weights[i];
        continue;
      }
      offs[i] = entry.off(flock, i);
      if (!Number.isFinite(offs[i])) continue;
      known += weights[i];
      sine += weights[i] * Math.sin(offs[i]);
      cosine += weights[i] * Math.cos(offs[i]);
      mean += weights[i] * offs[i];
    }
    if (entry.fits) return found;
    if (!(known > 0)) return 0;
    const middle = entry.circle ? Math.atan2(sine, cosine) : mean / known;
    const out = Math.abs(entry.circle ? turned(middle) : middle);
    for (let i = 0; i < flock.size; i++) {
      if (!(weights[i] > 0) || !Number.isFinite(offs[i])) continue;
      const away = entry.circle ? turned(offs[i] - middle) : offs[i] - middle;
      found += (weights[i] / known) * (below((-out - away) / entry.error) + below((away - out) / entry.error));
    }
    return found;
  }

  function weightsOf(logs, prior) {
    let top = -Infinity;
    for (const each of logs) if (each > top) top = each;
    const found = new Float64Array(logs.length);
    if (!Number.isFinite(top)) return found;
    let sum = 0;
    for (let i = 0; i < found.length; i++) sum += found[i] = prior[i] * Math.exp(logs[i] - top);
    return found.map((each) => each / sum);
  }

  function worth(weights) { // effective_count
    let sum = 0, squares = 0;
    for (const each of weights) {
      sum += each;
      squares += each * each;
    }
    return squares > 0 ? (sum * sum) / squares : 0;
  }

  function softened(logs, prior, count) {
    const found = weightsOf(logs, prior);
    if (worth(found) >= count) return found;
    let low = 0, high = 1;
    const wider = (share) => weightsOf(logs.map((each) => (share > 0 ? share * each : Number.isFinite(each) ? 0 : each)), prior);
    for (let n = 0; n < 16; n++) {
      const middle = 0.5 * (low + high);
      if (worth(wider(middle)) >= count) low = middle;
      else high = middle;
    }
    return wider(low);
  }

  // physics/patch.py, grounds_of: each way to come down smoothed by itself
  function groundsOf(find, flock, weights) {
    const { cells, beyond, least, rare, smallest } = find.patch;
    const found = [];
    find.counts.forEach((count, kind) => {
      const picked = [], flights = new Float64Array(count);
      const flight = (i) => Math.floor((i - first) / find.each);
      const first = find.counts.slice(0, kind).reduce((a, b) => a + b, 0) * find.each;
      for (let i = first; i < first + count * find.each; i++) {
        if (!Number.isFinite(flock.east_m[i]) || !(weights[i] > least)) continue;
        picked.push(i);
        flights[flight(i)] += weights[i];
      }
      const all = picked.reduce((sum, i) => sum + weights[i], 0);
      if (all > rare) found.push(smoothed(picked.map((i) => [flock.east_m[i], flock.north_m[i], weights[i], flight(i)]), all, worth(flights)));
    });
    for (const own of found)
      own.held = own.held.map(([density, weight, east, north]) => [found.reduce((most, each) => (each === own ? most : Math.max(most, densityHere(find, each, east, north))), density), weight]);
    return found;

    function smoothed(points, all, count) {
      const mean = [0, 1].map((k) => points.reduce((sum, p) => sum + p[k] * p[2], 0) / all);
      const spread = (a, b) => points.reduce((sum, p) => sum + (p[a] - mean[a]) * (p[b] - mean[b]) * p[2], 0) / all;
      const [xx, yy, xy] = [spread(0, 0) + smallest ** 2, spread(1, 1) + smallest ** 2, spread(0, 1)];
      const half = 0.5 * (xx + yy), off = Math.hypot(0.5 * (xx - yy), xy), angle = 0.5 * Math.atan2(2 * xy, xx - yy);
      const long = Math.sqrt(half + off), wide = Math.sqrt(Math.max(half - off, smallest ** 2));
      const axis = [Math.cos(angle), Math.sin(angle)];
      const units = points.map(([east, north, weight]) => {
        const [x, y] = [east - mean[0], north - mean[1]];
        return [(x * axis[0] + y * axis[1]) / long, (y * axis[0] - x * axis[1]) / wide, weight];
      });
      const width = count ** (-1 / 6);
      const spans = [0, 1].map((k) => span(units, k, all, beyond * width));
      const steps = spans.map(([low, high]) => (high - low) / cells);
      const mass = new Float64Array(cells * cells);
      for (const unit of units) {
        const [a, b] = [0, 1].map((k) => Math.min(Math.max(Math.floor((unit[k] - spans[k][0]) / steps[k]), 0), cells - 1));
        mass[a * cells + b] += unit[2];
      }
      const [left, right] = steps.map((step) => kernel(step, width));
      const cell = steps[0] * steps[1] * long * wide;
      const half_ = times(left, mass), density = times(half_, right).map((each) => each / cell);
      const ground = { mean, axis, long, wide, start: spans.map(([low], k) => low + 0.5 * steps[k]), steps, density, cell };
      const own = new Float64Array(points.length), scale = 1 / (TURN * width ** 2 * long * wide); // of its own flight
      points.forEach(([, , weight, flight], i) => {
        own[i] += weight;
        for (let k = i + 1; k < points.length && points[k][3] === flight; k++) {
          const near = Math.exp((-0.5 * ((units[i][0] - units[k][0]) ** 2 + (units[i][1] - units[k][1]) ** 2)) / width ** 2);
          own[i] += near * points[k][2];
          own[k] += near * weight;
        }
      });
      ground.held = points.map(([east, north, weight], i) => [Math.max(densityHere(find, ground, east, north) - scale * own[i], 0), weight, east, north]);
      return ground;
    }

    function span(units, k, all, room) {
      const order = units.map((unit) => [unit[k], unit[2] / all]).sort((a, b) => a[0] - b[0]);
      let sum = 0, low = null, high = order[order.length - 1][0];
      for (const [at, share] of order) {
        sum += share;
        if (low === null && sum >= rare) low = at;
        if (sum >= 1 - rare) {
          high = at;
          break;
        }
      }
      return [low - room, high + room];
    }

    function kernel(step, width) { // each column sums to 1
      const found = new Float64Array(cells * cells);
      for (let b = 0; b < cells; b++) {
        let sum = 0;
        for (let a = 0; a < cells; a++) sum += found[a * cells + b] = Math.exp(-0.5 * ((step * (a - b)) / width) ** 2);
        for (let a = 0; a < cells; a++) found[a * cells + b] /= sum;
      }
      return found;
    }

    function times(a, b) {
      const found = new Float64Array(cells * cells);
      for (let i = 0; i < cells; i++)
        for (let k = 0; k < cells; k++) {
          const factor = a[i * cells + k];
          if (factor) for (let j = 0; j < cells; j++) found[i * cells + j] += factor * b[k * cells + j];
        }
      return found;
    }
  }

  // patch_of: the density that a share of the weight finds at its own place, made by all other flights
  function levelOf(grounds, share) {
    const all = grounds.flatMap((each) => each.held).sort((a, b) => b[0] - a[0]);
    const whole = all.reduce((sum, each) => sum + each[1], 0);
    let held = 0;
    for (const [density, weight] of all) if ((held += weight) >= share * whole) return density;
    return 0;
  }

  function densityAt(find, ground, along, across) { // in cells, between their middles
    const { cells } = find.patch;
    const a = Math.floor(along), b = Math.floor(across), p = along - a, q = across - b;
    const at = (i, j) => (i < 0 || j < 0 || i >= cells || j >= cells ? 0 : ground.density[i * cells + j]);
    return (1 - p) * ((1 - q) * at(a, b) + q * at(a, b + 1)) + p * ((1 - q) * at(a + 1, b) + q * at(a + 1, b + 1));
  }

  function densityHere(find, ground, east, north) {
    const [x, y] = [east - ground.mean[0], north - ground.mean[1]];
    const along = ((x * ground.axis[0] + y * ground.axis[1]) / ground.long - ground.start[0]) / ground.steps[0];
    const across = ((y * ground.axis[0] - x * ground.axis[1]) / ground.wide - ground.start[1]) / ground.steps[1];
    return densityAt(find, ground, along, across);
  }

  const inside = (find, grounds, level, east, north) => grounds.some((ground) => densityHere(find, ground, east, north) > level);

  function spots(find, grounds, level, fine) { // points of the patch, fine of a cell each way, and its area
    const found = [];
    let area = 0;
    grounds.forEach((ground, nth) => {
      for (let a = -fine; a < find.patch.cells * fine; a++)
        for (let b = -fine; b < find.patch.cells * fine; b++) {
          const [i, j] = [(a + 0.5) / fine, (b + 0.5) / fine];
          if (!(densityAt(find, ground, i, j) > level)) continue;
          const along = (ground.start[0] + i * ground.steps[0]) * ground.long;
          const across = (ground.start[1] + j * ground.steps[1]) * ground.wide;
          const place = [
            ground.mean[0] + along * ground.axis[0] - across * ground.axis[1],
            ground.mean[1] + along * ground.axis[1] + across * ground.axis[0],
          ];
          if (inside(find, grounds.slice(0, nth), level, ...place)) continue; // where two groups overlap
          area += ground.cell / fine ** 2;
          found.push(place);
        }
    });
    return { points: found, area };
  }

  // studies/questions/find.py, _lanes: along the patch, from the pad, likeliest first
  function lanesOf(find, flock, weights, grounds, level, points, spacing) {
    const sum = (ground) => ground.density.reduce((a, b) => a + b, 0);
    const main = grounds.reduce((a, b) => (sum(b) > sum(a) ? b : a));
    const away = main.axis[0] * main.mean[0] + main.axis[1] * main.mean[1] >= 0 ? 1 : -1;
    const way = main.axis.map((each) => each * away);
    const right = [way[1], -way[0]];
    const dot = (p, d) => p[0] * d[0] + p[1] * d[1];
    const reach = (d) => points.reduce(([low, high], p) => [Math.min(low, dot(p, d)), Math.max(high, dot(p, d))], [Infinity, -Infinity]);
    const [low, high] = reach(right), [begin, end] = reach(way);
    const count = Math.max(1, Math.ceil((high - low) / spacing - 1e-6));
    const step = Math.max((end - begin) / 800, 0.5);
    const pieces = [];
    for (let n = 0; n < count; n++) {
      const side = low + ((n + 0.5) * (high - low)) / count;
      const at = (along) => [along * way[0] + side * right[0], along * way[1] + side * right[1]];
      let start = null;
      for (let along = begin - step; along <= end + 2 * step; along += step) {
        const held = inside(find, grounds, level, ...at(along));
        if (held && start === null) start = along;
        if (!held && start !== null) {
          pieces.push({ side, start, end: along - step, ends: [at(start), at(along - step)], share: 0 });
          start = null;
        }
      }
    }
    for (let i = 0; i < flock.size; i++) {
      if (!(weights[i] > 0) || !Number.isFinite(flock.east_m[i])) continue;
      const p = [flock.east_m[i], flock.north_m[i]], along = dot(p, way), across = dot(p, right);
      let best = null, least = 0.5 * spacing;
      for (const piece of pieces) {
        const beyond = Math.max(piece.start - along, along - piece.end, 0);
        const off = Math.hypot(across - piece.side, beyond);
        if (off <= least) [best, least] = [piece, off];
      }
      if (best) best.share += weights[i];
    }
    const order = pieces.sort((a, b) => b.share - a.share);
    let from = [0, 0];
    const lanes = order.slice(0, find.most).map((piece) => {
      const ends = [...piece.ends].sort((a, b) => Math.hypot(a[0] - from[0], a[1] - from[1]) - Math.hypot(b[0] - from[0], b[1] - from[1]));
      from = ends[1];
      return { start: ends[0], end: ends[1], share: piece.share, length: Math.hypot(ends[1][0] - ends[0][0], ends[1][1] - ends[0][1]) };
    });
    return { lanes, bearing: Math.atan2(way[0], way[1]), leftOut: order.length - lanes.length };
  }

  // find_asked: where to look
  let flown = { key: "", flock: null };
  function look(find, carried, asked) {
    const key = [carried.name, asked.wind, asked.windError, asked.from, asked.fromError, asked.tilt, asked.azimuth].join(" ");
    if (flown.key !== key) flown = { key, flock: flockOf(find, carried, asked) };
    const { flock } = flown;
    const entries = entriesOf(asked);
    const logs = new Float64Array(flock.size);
    let weights = weightsOf(logs, flock.prior), agreed = weights;
    const steps = [{ words: "before anything was seen", area: sized(weights, 1).area, odd: null }];
    let effective = worth(weights);
    for (const entry of entries) {
      const odd = tail(entry, flock, weights);
      for (let i = 0; i < flock.size; i++) {
        const log = entry.log(flock, i);
        logs[i] += Number.isNaN(log) ? -Infinity : log; // a flight without it
      }
      effective = worth(weightsOf(logs, flock.prior));
      weights = softened(logs, flock.prior, find.few);
      const some = weights.some((each) => each > 0);
      if (some) agreed = weights;
      steps.push({ words: entry.words, area: some ? sized(weights, 1).area : 0, odd });
    }
    if (!weights.some((each) => each > 0)) agreed = weightsOf(new Float64Array(flock.size), flock.prior);
    const last = sized(agreed, 3);
    steps[steps.length - 1].area &&= last.area;
    const inner = levelOf(last.grounds, 0.5);
    const half = spots(find, last.grounds, inner, 3).area;
    const middle = ["east_m", "north_m"].map((name) => {
      let sum = 0, all = 0;
      agreed.forEach((weight, i) => {
        if (weight > 0 && Number.isFinite(flock[name][i])) {
          sum += weight * flock[name][i];
          all += weight;
        }
      });
      return sum / all;
    });
    const ways = find.counts.map((_, kind) => agreed.reduce((sum, weight, i) => sum + (flock.kind[i] === kind ? weight : 0), 0));
    const walk = lanesOf(find, flock, agreed, last.grounds, last.level, last.points, asked.spacing);
    const length = walk.lanes.reduce((sum, lane) => sum + lane.length, 0);
    const held = walk.lanes.reduce((sum, lane) => sum + lane.share, 0);
    const strips = Math.max(Math.min(last.area, length * asked.spacing), 1);
    return {
      ...walk, steps, effective, middle, ways, area: last.area, half, points: last.points,
      walk_s: length / (find.walk * asked.people), found: held * (1 - Math.exp((-asked.spacing * length) / strips)),
      in90: (east, north) => inside(find, last.grounds, last.level, east, north),
      in50: (east, north) => inside(find, last.grounds, inner, east, north),
    };

    function sized(some, fine) {
      const grounds = groundsOf(find, flock, some), level = levelOf(grounds, 0.9);
      return { grounds, level, ...spots(find, grounds, level, fine) };
    }
  }

  const degrees = (angle) => `${String(((Math.round((angle * 360) / TURN) % 360) + 360) % 360).padStart(3, "0")}\u00a0deg`;
  return { look, degrees, turned, whole };
})();
