// The start page: how an answer is known is read from its own words while it is typed.
document.addEventListener("input", (e) => {
  const how = e.target.nextElementSibling;
  if (!how || !how.matches(".how") || !how.textContent) return;
  const known = /\bmeasured\b/.test(e.target.value) ? "measured" : /\blabel\b/.test(e.target.value) ? "label" : "guess";
  how.textContent = e.target.className = known;
});
// What is left as offered goes with what is typed: a wider body gets longer fins.
const form = document.getElementById("answers");
form?.addEventListener("change", async () => {
  const boxes = [...form.querySelectorAll("[data-offered]")], left = (box) => box.value === box.dataset.offered;
  const typed = new URLSearchParams(boxes.filter((box) => !left(box)).map((box) => [box.name, box.value]));
  const offered = await fetch("/start/offered?" + typed).then((answer) => answer.json()).catch(() => ({}));
  for (const box of boxes) if (offered[box.name]) {
    if (left(box)) {
      box.value = offered[box.name];
      if (box === document.activeElement) box.select(); // typing replaces it
    }
    box.dataset.offered = offered[box.name];
  }
});
