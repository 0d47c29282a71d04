// The field card: which cell is shown, and ticks that survive a reload.
const data = JSON.parse(document.getElementById("data").textContent);
const at = (id) => document.getElementById(id);
const word = (place) => data.words[place];
const name = `goodflight ${data.stamp}`;
let kept = { ticks: {}, wind: null, mode: "auto" };
let keeps = true;
try {
  kept = { ...kept, ...JSON.parse(localStorage.getItem(name) || "{}") };
} catch {
  keeps = false;
}

function keep() {
  try {
    localStorage.setItem(name, JSON.stringify(kept));
  } catch {
    keeps = false;
  }
  at("kept").hidden = keeps;
  at("kept").textContent = "This browser keeps nothing of this file: a reload clears the ticks. Do not reload.";
}

// --- what to do at a wind ---
let chosen = null; // motor, wind, lean, delay: places in the lists
const watchers = []; // told of another choice

function choose(key) {
  chosen = key.split(" ").map(Number);
  show();
}

function line(kind, text, parent) {
  const made = document.createElement(kind);
  made.textContent = text;
  parent.append(made);
  return made;
}

function show() {
  const [motor, wind, lean, out] = chosen;
  const [doing, chance, state, called, why, refuse] = data.cells[chosen.join(" ")];
  const best = data.best[wind] === chosen.join(" ");
  const said = at("said");
  said.replaceChildren();
  if (word(refuse)) line("p", word(refuse), said).className = "never";
  for (const each of doing) line("p", word(each), said).className = "do";
  const told = line("p", "", said);
  told.className = `odds ${state}`;
  line("b", `Anything fails: ${word(chance)}`, told);
  line("span", best ? ` ${word(called)}; least of all choices here` : ` ${word(called)}; not the least here`, told);
  const table = line("dl", "", said);
  for (const [key, value] of why) {
    line("dt", word(key), table);
    line("dd", word(value), table);
  }
  at("wind").textContent = data.winds[wind];
  at("less").disabled = wind === 0;
  at("more").disabled = wind === data.winds.length - 1;
  at("best").hidden = best;
  const planned = asPlanned(wind);
  at("plan").hidden = planned === chosen.join(" ");
  at("plan").textContent = `as planned: ${word(data.cells[planned][1])}`;
  picks("motors", data.motors, motor, (i) => [i, wind, lean, 0]);
  picks("leans", data.leans, lean, (i) => [motor, wind, i, out]);
  picks("outs", data.outs[motor].map((each) => `${each} out`), out, (i) => [motor, wind, lean, i]);
  for (const each of watchers) each();
}

function asPlanned(wind) {
  const [motor, lean, out] = data.plan;
  return `${motor} ${wind} ${lean} ${out}`;
}

function picks(id, names, now, key, take = (key) => choose(key.join(" "))) {
  const group = at(id);
  const focused = [...group.children].indexOf(document.activeElement);
  group.replaceChildren();
  names.forEach((each, i) => {
    const made = line("button", each, group);
    made.type = "button";
    made.setAttribute("aria-pressed", String(i === now));
    made.addEventListener("click", () => take(key(i)));
  });
  if (focused >= 0) group.children[focused].focus();
}

function wind(to) {
  kept.wind = to;
  keep();
  choose(data.best[to]);
}

at("less").addEventListener("click", () => wind(chosen[1] - 1));
at("more").addEventListener("click", () => wind(chosen[1] + 1));
at("best").addEventListener("click", () => choose(data.best[chosen[1]]));
at("plan").addEventListener("click", () => choose(asPlanned(chosen[1])));

// --- lists ---
const ticks = [...document.querySelectorAll("[data-tick]")];

function mark() {
  for (const each of ticks) each.setAttribute("aria-pressed", String(each.dataset.tick in kept.ticks));
  for (const each of document.querySelectorAll("[data-of]")) {
    const own = ticks.filter((tick) => tick.dataset.tick.startsWith(`${each.dataset.of}/`));
    const done = own.filter((tick) => tick.dataset.tick in kept.ticks).length;
    each.textContent = done ? `${done} of ${own.length}` : own.length;
  }
  at("clear").hidden = !Object.keys(kept.ticks).length;
}

for (const each of ticks) {
  each.addEventListener("click", () => {
    if (each.dataset.tick in kept.ticks) delete kept.ticks[each.dataset.tick];
    else kept.ticks[each.dataset.tick] = new Date().toISOString();
    keep();
    mark();
  });
}

// Nothing is lost by one touch: the button asks, and acts when it is pressed again.
function pressTwice(button, again, act) {
  const ask = button.textContent;
  button.addEventListener("click", () => {
    if (button.textContent === ask) {
      button.textContent = again;
      setTimeout(() => (button.textContent = ask), 6000);
      return;
    }
    button.textContent = ask;
    act();
  });
}

pressTwice(at("clear"), "press again to clear every tick", () => {
  kept.ticks = {};
  keep();
  mark();
});

// --- light ---
const MODES = { auto: "full sun", sun: "night", dark: "paper", light: "full sun" };
const NEXT = { auto: "sun", sun: "dark", dark: "light", light: "sun" };

function light() {
  document.documentElement.dataset.mode = kept.mode;
  at("mode").textContent = MODES[kept.mode];
}

at("mode").addEventListener("click", () => {
  kept.mode = NEXT[kept.mode];
  keep();
  light();
});

for (const id of ["mode", "choose"]) at(id).hidden = false;
if (!(kept.mode in NEXT)) kept.mode = "auto";
light();
mark();
keep();
wind(kept.wind in data.best ? kept.wind : Number(document.body.dataset.wind));
