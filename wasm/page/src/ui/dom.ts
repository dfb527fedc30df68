// Elements. Nothing here writes HTML text.

export type Child = Node | string | number | false | null | undefined | Child[];
type Value = string | number | boolean | undefined | ((e: never) => void);

export function h<K extends keyof HTMLElementTagNameMap>(
  tag: K, props: Record<string, Value> = {}, ...kids: Child[]
): HTMLElementTagNameMap[K] {
  const e = document.createElement(tag);
  for (const [name, value] of Object.entries(props)) {
    if (typeof value === 'function') e.addEventListener(name, value as (e: Event) => void);
    else if (value === true) e.setAttribute(name, '');
    else if (value !== false && value !== undefined) e.setAttribute(name, String(value));
  }
  add(e, kids);
  return e;
}

export function add(to: Element, kids: Child): void {
  for (const kid of Array.isArray(kids) ? kids : [kids]) {
    if (Array.isArray(kid)) add(to, kid);
    // A mark that turns the direction of writing would turn what stands behind it too: a number would read backwards.
    else if (kid !== false && kid !== null && kid !== undefined) to.append(kid instanceof Node ? kid : String(kid).replace(/[\u202a-\u202e\u2066-\u2069]/g, ''));
  }
}

export function fill(to: Element, ...kids: Child[]): void {
  to.replaceChildren();
  add(to, kids);
}

/** A drawing from the core: parsed as XML and taken over only if it is an svg element. */
export function svgElement(svg: string | undefined): Node | undefined {
  if (!svg) return undefined;
  const root = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
  if (root.nodeName !== 'svg' || root.querySelector('script, foreignObject, parsererror')) return undefined;
  return document.importNode(root, true);
}

export const para = (text: string, look = ''): HTMLElement => h('p', look ? { class: look } : {}, text);
export const caution = (...kids: Child[]): HTMLElement => h('div', { class: 'caution' }, kids);
export const link = (label: string, go: () => void, props: Record<string, Value> = {}): HTMLElement =>
  h('button', { type: 'button', class: 'link', click: go, ...props }, label);
