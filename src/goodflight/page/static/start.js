// The start page: how an answer is known is read from its own words while it is typed.
document.addEventListener("input", (e) => {
  const how = e.target.nextElementSibling;
  if (!how || !how.matches(".how") || !how.textContent) return;
  const known = /\bmeasured\b/.test(e.target.value) ? "measured" : /\blabel\b/.test(e.target.value) ? "label" : "guess";
  how.textContent = e.target.className = known;
});
