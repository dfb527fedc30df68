// Where on the horse: one line drawing of our own, with a ring at each place of the step.

import { siteName } from './names';
import { list, say } from './words';

const ns = 'http://www.w3.org/2000/svg';

/** A horse that stands, from its left; 328 wide. */
const horse = 'M34 62C40 54 50 44 58 38L62 26L68 35C84 40 98 54 112 68C122 74 132 74 142 74C160 82 186 80 206 74C226 68 244 70 254 80C262 86 266 96 268 108'
  + 'M34 62C28 68 25 76 28 82C32 88 40 88 45 84C54 82 62 80 70 76C78 84 84 96 88 110C88 122 92 132 98 138'
  + 'M98 138C97 152 99 164 98 174C96 186 98 196 95 204L90 214H106L106 206C107 196 106 186 107 176C109 162 114 152 116 144'
  + 'M116 144C142 152 176 152 208 138C216 132 222 128 226 124'
  + 'M226 124C228 136 236 144 242 152C246 160 238 176 240 188C240 196 238 202 236 206L232 214H248L250 206C250 194 252 182 254 172C256 160 258 148 262 138C268 128 270 118 268 108'
  + 'M112 146C116 160 116 176 117 190L118 206L115 214H129L128 202C126 186 126 166 128 150'
  + 'M224 136C222 150 224 160 228 168C224 180 226 194 225 204L221 214H234'
  + 'M266 96C278 102 284 122 281 146C280 158 276 168 272 174C272 156 270 138 268 118'
  + 'M32 84c5-1 9-2 13-4M33 73c2-2 4-2 5 0M52 52h3';

/** The places, by the site or, where a sign has one place only, by the sign. */
const places: Record<string, [number, number]> = {
  flank: [214, 104], nostril: [35, 74], eyelid: [54, 56], shoulder: [98, 110], neck: [92, 78], jaw: [66, 74],
  'digital-artery': [99, 192], 'chest-left': [122, 136],
  'fore-left': [98, 206], 'fore-right': [122, 206], 'hind-left': [241, 206], 'hind-right': [227, 206],
  'flank-left': [210, 108], 'gut-upper-left': [206, 92], 'gut-lower-left': [196, 130], 'lung-left': [148, 108],
  'back-left': [182, 82], 'thigh-left': [228, 118], 'hindquarter-left': [254, 104], 'inner-thigh-left': [244, 148],
  'gum-colour': [34, 82], 'dark-rim': [34, 82], 'gum-moisture': [34, 82], 'capillary-refill': [34, 82], nostrils: [35, 74],
  'respiratory-effort': [214, 112], 'jugular-refill': [86, 100], 'rectal-temperature': [268, 108], 'heart-rhythm': [122, 136],
  'pulse-strength': [66, 74], weight: [126, 110], 'limb-warmth': [99, 180],
};
/** What is on the other side is found as on this one. */
const mirrored = (id: string): string => id.replace(/-right$/, '-left');
const feet = /^(fore|hind)-/;

/** The drawing for a sign and its sites; undefined where no place on the horse is meant. */
export function whereOn(sign: string, sites: string[] = []): SVGElement | undefined {
  const at = new Map<string, [number, number]>();
  for (const id of sites.length ? sites : [sign]) {
    const key = feet.test(id) ? id : mirrored(id);
    const place = places[key] ?? (sites.length ? places[sign] : undefined);
    if (place) at.set(key, place);
  }
  if (at.size === 0) return undefined;
  const svg = document.createElementNS(ns, 'svg');
  svg.setAttribute('viewBox', '0 14 328 206');
  svg.setAttribute('role', 'img');
  svg.setAttribute('class', 'where-on');
  const named = (sites.length ? sites : []).map(siteName);
  svg.setAttribute('aria-label', named.length ? say('page.drawn', { sites: list(named) }) : say('page.drawn.one'));
  const line = (d: string, width: string, dash = ''): void => {
    const path = document.createElementNS(ns, 'path');
    path.setAttribute('d', d);
    path.setAttribute('fill', 'none');
    path.setAttribute('stroke', 'currentColor');
    path.setAttribute('stroke-width', width);
    path.setAttribute('stroke-linejoin', 'round');
    path.setAttribute('stroke-linecap', 'round');
    if (dash) path.setAttribute('stroke-dasharray', dash);
    svg.append(path);
  };
  line(horse, '1.6');
  // Round the girth and along the body, for the weight by tape.
  if (sign === 'weight') line('M126 74C134 100 132 128 124 148M92 116H264', '3', '6 4');
  else for (const [x, y] of at.values()) {
    const c = document.createElementNS(ns, 'circle');
    for (const [k, v] of Object.entries({ cx: x, cy: y, r: 9, fill: 'none', stroke: 'currentColor', 'stroke-width': 4 })) c.setAttribute(k, String(v));
    svg.append(c);
  }
  return svg;
}
