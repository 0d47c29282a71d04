// What is typed becomes the address; the answers alone are asked.
const form = document.getElementById("measured");
const day = document.getElementById("day");
const allowed = document.getElementById("allowed");
let last = 0;

function query() {
  const found = new URLSearchParams();
  for (const [key, text] of new FormData(form)) {
    if (text !== "") found.append(key, text);
  }
  return found.toString();
}

async function show(place, path, mine) {
  try {
    const text = await (await fetch(path)).text();
    if (mine === last) place.innerHTML = text;
  } finally {
    if (mine === last) place.className = "";
  }
}

async function ask() {
  const mine = ++last;
  const asked = query();
  day.className = allowed.className = "waits";
  await show(day, "/field-answer?" + asked, mine);
  if (mine !== last) return;
  history.replaceState(null, "", "/field?" + asked);
  await show(allowed, "/field-allowed?" + asked, mine);
}

form.addEventListener("change", ask);
form.addEventListener("submit", (event) => {
  event.preventDefault();
  ask();
});
