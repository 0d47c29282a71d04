// The clock of a flight: lift-off starts it, each event is stamped where it may be corrected.
const KEPT = "goodflight-liftoff";
const clock = document.getElementById("clock");
const begin = document.getElementById("liftoff");
const stamps = document.querySelectorAll(".stamp");
let started = Number(sessionStorage.getItem(KEPT)) || 0;
let ticking = 0;

const seconds = () => (Date.now() - started) / 1000;

function tick() {
  clock.textContent = `${seconds().toFixed(1)} s`;
}

function running() {
  clearInterval(ticking);
  begin.textContent = started ? "lift-off again" : "lift-off now";
  for (const each of stamps) each.disabled = !started;
  if (started && seconds() < 3600) ticking = setInterval(tick, 100);
}

document.getElementById("clock_box").hidden = false;
for (const each of stamps) {
  each.hidden = false;
  each.addEventListener("click", () => {
    document.getElementById(each.dataset.for).value = seconds().toFixed(1);
    if (each.dataset.for === "landing") {
      clearInterval(ticking);
      tick();
    }
  });
}
begin.addEventListener("click", () => {
  started = Date.now();
  sessionStorage.setItem(KEPT, String(started));
  running();
});
const now = new Date();
const two = (n) => String(n).padStart(2, "0");
const at = document.getElementById("at");
const zone = document.getElementById("zone");
if (!at.value) {
  at.value = `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())} ${two(now.getHours())}:${two(now.getMinutes())}`;
  zone.value = zone.value || String(-now.getTimezoneOffset() / 60);
}
running();
