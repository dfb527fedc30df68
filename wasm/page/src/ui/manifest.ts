// What the system shows of the page once it is installed, in the language of the page.

declare const MANIFESTS: Record<string, string> | null;

/** Names the manifest of the language that is spoken, now and whenever another is. */
export function speakManifest(): void {
  const link = document.querySelector<HTMLLinkElement>('link[rel=manifest]');
  if (!link || !MANIFESTS) return;
  const set = (): void => {
    const to = MANIFESTS[document.documentElement.lang];
    if (to && link.getAttribute('href') !== to) link.href = to;
  };
  new MutationObserver(set).observe(document.documentElement, { attributeFilter: ['lang'] });
  set();
}
