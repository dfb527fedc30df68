// The looks of a case and of an answer: they come with their screens, so that the first screen need not wait for them. A sheet that a script
// makes asks for no right to styles in the page's policy; where a browser makes none the texts stand below each other.

const CSS = `
.answer-of { margin: 12px 0; padding: 8px 12px; border: 2px dashed var(--ink); }
.answer-of h3 { font: 700 1.125rem/1.25 var(--touch); margin: 12px 0 4px; }
.answer-of bdi, .theirs { overflow-wrap: anywhere; }
.theirs { white-space: pre-wrap; overflow: hidden; }
.swipe { overflow-x: auto; margin: 0 calc(-1 * var(--edge)) 8px; }
.looks { border-collapse: collapse; min-width: 100%; font-size: 1.125rem; }
.looks th, .looks td { padding: 6px 10px; border-bottom: 1px solid var(--line); text-align: right; vertical-align: baseline; font-weight: 400; font-variant-numeric: tabular-nums; }
.looks thead th { font-weight: 700; white-space: nowrap; border-bottom: 2px solid var(--ink); }
.looks th:first-child { text-align: left; position: sticky; left: 0; background: var(--paper); padding-left: var(--edge); max-width: 10rem; }
.looks td:nth-child(2) { color: var(--mid); }
.looks strong { text-underline-offset: 3px; }
.case-alarms { border: 3px solid var(--rub); padding: 8px 12px; margin: 12px 0; }
.call .case-alarms h2 { border: 0; margin: 0; padding: 0; color: var(--rub); display: flex; gap: 8px; align-items: center; }
.case-alarms ul { margin: 6px 0 0; padding-left: 1.2em; font-size: 1.125rem; }
@media screen and (min-width: 64em) {
  .opened.screen { max-width: 80rem; }
  .opened .body { font-size: 1.125rem; }
  .case { display: grid; grid-template-columns: 26rem minmax(0, 1fr); gap: 0 2rem; align-items: start; }
  .opened .swipe { margin: 0 0 8px; }
  .opened .looks th:first-child { padding-left: 0; max-width: none; }
  .opened .looks th, .opened .looks td { padding: 3px 10px; }
  .curves { display: grid; grid-template-columns: repeat(auto-fill, minmax(14rem, 1fr)); gap: 0 1.5rem; }
  .opened .case h2 { margin-top: 6px; padding-top: 4px; font-size: 1.125rem; }
  .opened .case .ring { display: none; }
  .opened .case p { margin-bottom: 4px; }
  .opened h1 { margin: 4px 0; }
  .opened h2 { margin-top: 8px; padding-top: 6px; }
  .opened > .body > .report { columns: 2; column-gap: 2rem; }
  .opened > .body > .report > section { break-inside: avoid-column; }
  .opened .part-basis { break-inside: auto; }
}
@media print {
  .paper.urgent { display: block; border: 2.5pt solid #000; border-left-width: 8pt; padding: 2pt 8pt 4pt; margin: 0 0 4pt; }
  .call .paper.urgent h2 { border: 0; margin: 0; padding: 0; }
  .report .part-danger { display: none; }
  .swipe { overflow: visible; margin: 0; }
  .looks { font-size: 9pt; min-width: 0; width: 100%; }
  .looks th, .looks td { padding: 1.5pt 4pt; border: 0.5pt solid #000; }
  .looks th:first-child { position: static; max-width: none; padding-left: 4pt; }
  .curves { display: grid; grid-template-columns: 1fr 1fr 1fr; gap: 0 12pt; }
  .curves .found p, .founds .found p { font-size: 8pt; }
  .curves .found svg, .founds .found svg { width: 100%; }
  .curves .found, .founds .found { border: 0; padding: 0; }
  .founds { columns: 3; column-gap: 5mm; }
  .founds .found details { display: none; }
  .part-basis details { columns: 2; column-gap: 6mm; }
  .part-basis { font-size: 7.5pt; line-height: 1.2; }
  .part-basis p { margin: 0; }
}
`;

/** Puts the sheet behind the page's own. */
export function addLateStyle(): void {
  if (!('adoptedStyleSheets' in document)) return;
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(CSS);
  document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
}
