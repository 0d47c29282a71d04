// No line ends between a figure and its unit, nor inside "7 in 100"; what is copied into a file stays.
import { body, data } from "./common.js";

const unit = new RegExp(`(\\d) (?=(?:${data.units})(?![\\w/]))`, "g"), share = /(\d[ \u00a0]in|±) (?=\d)/g;
const KEPT = "script,style,code,pre,textarea,option,output,svg";
function join(text) {
  const held = text.data.replace(unit, "$1\u00a0").replace(share, "$1\u00a0");
  if (held !== text.data && !text.parentElement?.closest(KEPT)) text.data = held;
}
function within(node) {
  const texts = document.createTreeWalker(node, NodeFilter.SHOW_TEXT);
  do if (texts.currentNode.nodeType === Node.TEXT_NODE) join(texts.currentNode); while (texts.nextNode());
}
within(body);
new MutationObserver((all) => {
  for (const each of all) each.type === "characterData" ? join(each.target) : each.addedNodes.forEach(within);
}).observe(body, { childList: true, characterData: true, subtree: true });
