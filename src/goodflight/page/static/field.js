// The answer follows what is typed: the form's entries become the address, the answer alone is asked.
const form = document.getElementById("measured");
const day = document.getElementById("day");
let last = 0;

function query() {
  const found = new URLSearchParams();
  for (const [key, text] of new FormData(form)) {
    if (text !== "") found.append(key, text);
  }
  return found.toString();
}

async function ask() {
  const mine = ++last;
  const asked = query();
  day.classList.add("asking");
  try {
    const answer = await fetch("/field-answer?" + asked);
    const text = await answer.text();
    if (mine !== last) return;
    day.innerHTML = text;
    history.replaceState(null, "", "/field?" + asked);
  } finally {
    if (mine === last) day.classList.remove("asking");
  }
}

form.addEventListener("change", ask);
form.addEventListener("submit", (event) => {
  event.preventDefault();
  ask();
});
