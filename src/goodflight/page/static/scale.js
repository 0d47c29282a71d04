// The scale at the bench: a touch on the picture ticks a part, big keys type into the field above.
import { $, narrow } from "./common.js";

const form = document.querySelector("#weigh form");
const boxes = [...form.querySelectorAll("[data-name]")];
const motor = $("w-motor");

function light() {
  const on = new Set(boxes.filter((box) => box.checked).map((box) => box.dataset.name));
  if (motor.value) on.add("motor");
  for (const part of form.querySelectorAll("[data-part]")) part.classList.toggle("on", on.has(part.dataset.part));
}

form.addEventListener("change", (e) => {
  if (e.target.name === "state") {
    const whole = e.target.value === "all";
    for (const box of boxes) box.checked = whole && "flown" in box.dataset;
    if (!whole) motor.value = "";
  }
  light();
});
form.addEventListener("click", (e) => {
  const part = e.target.closest("[data-part]");
  if (part) touched(part.dataset.part);
  const key = e.target.closest("[data-key]");
  if (key) typed(key);
});

function touched(name) {
  const box = boxes.find((each) => each.dataset.name === name);
  if (box) box.checked = !box.checked;
  else if (name === "motor") motor.selectedIndex = motor.value ? 0 : Math.min(1, motor.length - 1);
  light();
}

// --- keys ---

let last = null; // the field that keys type into
form.addEventListener("focusin", (e) => {
  if (e.target.matches("input:not([type])")) last = e.target;
});

function typed(key) {
  const step = key.closest(".step");
  const field = last && step.contains(last) ? last : step.querySelector("input:not([type])");
  const more = key.dataset.key;
  last = field;
  if (more === "⌫") field.value = field.value.replace(/\s*(?:[a-z]+|±|.)\s*$/, "");
  else if (more === "±") field.value = field.value.trimEnd() + " ± ";
  else field.value += more;
}

function keyed() {
  for (const keys of form.querySelectorAll(".keys")) {
    keys.hidden = !narrow.matches;
    for (const field of keys.closest(".step").querySelectorAll("input:not([type])")) {
      if (narrow.matches) field.inputMode = "none"; // the keys below do; no second keyboard over them
      else field.removeAttribute("inputmode");
    }
  }
}
narrow.addEventListener("change", keyed);
keyed();
light();
