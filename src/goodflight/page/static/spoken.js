// What is read aloud: the total once all flights are in, that work has begun, and what went wrong.
// A figure that is still moving, and how far the work is, are shown and not spoken.
import { $, body, data } from "./common.js";

const spoken = $("spoken"), total = $("total"), working = $("working");
const words = (el) => el.innerText.replace(/[^\S\u00a0]+/g, " ").trim();
let last = total ? words(total) : "", doing = "";
function say(text) { if (spoken) spoken.textContent = text; }
const desk = document.querySelector(".columns");
if (desk && total) new MutationObserver(() => {
  if (desk.dataset.full !== "yes" || words(total) === last) return;
  last = words(total); say(last);
}).observe(desk, { attributes: true, attributeFilter: ["data-full"] });
if (working) new MutationObserver(() => {
  const now = words(working);
  if (/\d\s%$/.test(now)) return;
  if (now && now !== doing) say(now);
  doing = now;
}).observe(working, { childList: true, characterData: true, subtree: true });

// No line ends between a figure and its unit, nor inside "7 in 100".
const parts = new RegExp(` (?:(?<=\\d )(?=(?:${data.units})(?![\\w/]))|(?<=\\d.in |± )(?=\\d))`, "g");
function join(node) {
  node.childNodes.forEach(join);
  if (node.nodeType !== 3 || node.parentNode?.closest("script,code,pre,textarea,option,output,svg")) return;
  const held = node.data.replace(parts, "\u00a0");
  if (held !== node.data) node.data = held;
}
join(body);
new MutationObserver((all) => all.forEach((each) => join(each.target)))
  .observe(body, { childList: true, characterData: true, subtree: true });
