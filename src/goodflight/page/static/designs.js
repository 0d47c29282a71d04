// The search for designs: how far it is, a button that stops it, then what was found.
import { $, data } from "./common.js";
import { progress, stopWork } from "./progress.js";

const say = (what, share = null, stop = null) => progress($("searching"), what, share, stop);
const search = () => {
  const tab = data.tab + "-designs";
  const stream = new EventSource("/designs-searched?tab=" + encodeURIComponent(tab));
  const end = (words) => { stream.close(); say(words); };
  const stop = () => { say("stopping"); stopWork(tab); };
  say("searching", 0, stop);
  stream.addEventListener("progress", (e) => { const d = JSON.parse(e.data); say(d.what, d.share, stop); });
  stream.addEventListener("done", (e) => { $("designs").innerHTML = JSON.parse(e.data).designs; end(""); });
  stream.addEventListener("fault", (e) => end(JSON.parse(e.data).words));
  stream.addEventListener("stopped", () => end("Stopped. Load the page again to search anew."));
  stream.addEventListener("superseded", () => end(""));
  stream.onerror = () => end("The server did not answer.");
};
search();
