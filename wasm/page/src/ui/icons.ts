// Marks of urgency: shape first, so that they differ without any colour; a word stands beside each.

const ns = 'http://www.w3.org/2000/svg';

/** A drawing of paths; a circle is written as a path too. */
function mark(paths: [d: string, look: 'fill' | 'line' | 'thick' | 'hole'][], box = 48): SVGElement {
  const svg = document.createElementNS(ns, 'svg');
  svg.setAttribute('viewBox', `0 0 ${box} ${box}`);
  svg.setAttribute('class', 'mark');
  svg.setAttribute('aria-hidden', 'true');
  for (const [d, look] of paths) {
    const path = document.createElementNS(ns, 'path');
    path.setAttribute('d', d);
    path.setAttribute('class', look);
    svg.append(path);
  }
  return svg;
}

/** Call now: an octagon; filled where the level itself is said, open on a button. */
export const octagon = (filled = false): SVGElement => mark(filled
  ? [['M15 2h18l13 13v18L33 46H15L2 33V15z', 'fill'], ['M24 12v15M24 35.5v.1', 'hole']]
  : [['M15 3h18l12 12v18L33 45H15L3 33V15z', 'line'], ['M24 12v15M24 35.5v.1', 'thick']]);
/** Tell today: a diamond, half of it filled. */
export const diamond = (): SVGElement => mark([['M24 3l21 21-21 21L3 24z', 'line'], ['M24 3v42L3 24z', 'fill']]);
/** Check again: a clock. */
export const clockMark = (): SVGElement => mark([['M24 4a20 20 0 1 1 0 40a20 20 0 1 1 0-40z', 'line'], ['M24 12v13l9 6', 'line']]);
/** Telephone. */
export const handset = (): SVGElement => mark([['M9.6 3.2 5.4 6.4c-1.3 1-1.7 2.6-1.1 4.2C7.4 19 13 24.6 21.4 27.7c1.6.6 3.2.2 4.2-1.1l3.2-4.2c.5-.7.4-1.6-.3-2.1l-6-4.1c-.6-.4-1.4-.3-1.9.2l-2.3 2.3c-2.8-1.5-5.5-4.2-7-7l2.3-2.3c.5-.5.6-1.3.2-1.9l-4.1-6c-.5-.7-1.4-.8-2.1-.3z', 'fill']], 32);
