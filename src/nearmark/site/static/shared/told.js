/* What the scripts of the desks say by themselves: the server gives the sentences, in the language
   of the page. */
import { find } from "./dom.js";

/** @type {Record<string, string> | undefined} */
let texts;

/**
 * A sentence with its facts; its name where the page has none.
 *
 * @param {string} name
 * @param {Record<string, string | number>} [facts]
 */
export function told(name, facts = {}) {
  texts ??= JSON.parse(find("#desk-texts", HTMLScriptElement)?.textContent || "{}");
  const text = texts?.[name] ?? name;
  return text.replace(/\{(\w+)\}/g, (whole, fact) => String(facts[fact] ?? whole));
}
