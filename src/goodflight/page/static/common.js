// What every script of the pages needs: the page's own data and inks.
export const body = document.body, root = document.documentElement;
export const data = body.dataset;
export const $ = (id) => document.getElementById(id);
export const narrow = matchMedia("(max-width: 820px)");
export const ink = (name) => getComputedStyle(root).getPropertyValue("--" + name).trim();
