/* Elements of a page with their types known, and pages fetched by a script. */

/**
 * The first element that a selector finds, if it is of this kind.
 *
 * @template {Element} [T=HTMLElement]
 * @param {string} selector
 * @param {new () => T} [kind]
 * @param {ParentNode} [root]
 * @returns {T | null}
 */
export function find(selector, kind, root = document) {
  const found = root.querySelector(selector);
  return found instanceof (kind ?? HTMLElement) ? /** @type {T} */ (found) : null;
}

/**
 * The first element that a selector finds; the page must hold one of this kind.
 *
 * @template {Element} [T=HTMLElement]
 * @param {string} selector
 * @param {new () => T} [kind]
 * @param {ParentNode} [root]
 * @returns {T}
 */
export function need(selector, kind, root = document) {
  const found = find(selector, kind, root);
  if (!found) throw new Error(`the page holds no ${selector}`);
  return found;
}

/**
 * Every element of this kind that a selector finds, in the order of the page.
 *
 * @template {Element} [T=HTMLElement]
 * @param {string} selector
 * @param {new () => T} [kind]
 * @param {ParentNode} [root]
 * @returns {T[]}
 */
export function all(selector, kind, root = document) {
  const found = [...root.querySelectorAll(selector)];
  return /** @type {T[]} */ (found.filter((one) => one instanceof (kind ?? HTMLElement)));
}

/**
 * A new element with a text and properties.
 *
 * @template {keyof HTMLElementTagNameMap} N
 * @param {N} name
 * @param {string} text
 * @param {Partial<HTMLElementTagNameMap[N]>} [properties]
 */
export function element(name, text, properties = {}) {
  return Object.assign(document.createElement(name), { textContent: text }, properties);
}

/**
 * The object that the server wrote into the page with `json_script`.
 *
 * @param {string} id
 */
export const pageData = (id) => JSON.parse(need(`#${id}`, HTMLScriptElement).textContent ?? "");

/** @param {string} html */
export const parsedPage = (html) => new DOMParser().parseFromString(html, "text/html");

/**
 * What the server answers, if it is what was asked for; else an error: no link, signed out, locked.
 *
 * @param {string} address
 * @param {string} type media type that is asked for
 * @param {AbortSignal} [signal]
 */
export async function fetched(address, type, signal) {
  const answer = await fetch(address, { headers: { Accept: type }, redirect: "error", signal });
  if (!answer.ok) throw new Error(`${address} answers ${answer.status}`);
  return answer;
}

/**
 * The page at an address as it is now.
 *
 * @param {string} address
 * @param {AbortSignal} [signal]
 */
export async function fetchedPage(address, signal) {
  return parsedPage(await (await fetched(address, "text/html", signal)).text());
}
