// Where on the horse: a line drawing of our own, with a ring at each place of the step; and mouth and foot from near.

import { list, say } from '../core/words';
import { siteName } from '../text/names';
import { type Child, h, para } from './dom';

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
  nostrils: [35, 74],
  'respiratory-effort': [214, 112], 'jugular-refill': [86, 100], 'rectal-temperature': [268, 108], 'heart-rhythm': [122, 136],
  'pulse-strength': [66, 74], weight: [126, 110], 'limb-warmth': [99, 180],
};
/** What is on the other side is found as on this one. */
const mirrored = (id: string): string => id.replace(/-right$/, '-left');
const feet = /^(fore|hind)-/;

/** From the front, the upper lip lifted. */
const mouth = 'M74 14C65 40 60 66 65 92C69 112 78 128 87 140C94 168 118 196 164 196C210 196 234 168 241 140C250 128 259 112 263 92C268 66 263 40 254 14M104 36C94 40 90 54 97 62C104 60 111 50 113 40C111 36 108 34 104 36M224 36C234 40 238 54 231 62C224 60 217 50 215 40C217 36 220 34 224 36M87 140C85 120 94 96 115 84C132 76 148 80 164 80C180 80 196 76 213 84C234 96 243 120 241 140M101 160C118 182 143 184 164 184C185 184 210 182 227 160M101 124C102 118 111 116 115 120C120 113 131 112 136 117C143 110 155 110 164 115C173 110 185 110 192 117C197 112 208 113 213 120C217 116 226 118 227 124M101 124C101 136 104 146 109 150L115 148V120M115 148C118 153 131 154 136 152V117M136 152C141 156 159 156 164 154V115M164 154C169 156 187 156 192 152V117M192 152C197 154 210 153 213 148V120M213 148L219 150C224 146 227 136 227 124M111 152C111 160 115 168 118 170M118 170C125 173 134 174 138 173V155M138 173C146 176 159 176 164 175V157M164 175C169 176 182 176 190 173V155M190 173C196 174 203 173 210 170C213 168 217 160 217 152';
const gum = 'M124 92L116 108M136 88L129 106M148 86L141 104M160 86L153 105M173 86L166 105M185 87L178 106M197 89L190 108';
const rim = 'M101 124C102 118 111 116 115 120C120 113 131 112 136 117C143 110 155 110 164 115C173 110 185 110 192 117C197 112 208 113 213 120C217 116 226 118 227 124';
/** A left forefoot from its left, down to the ground. */
const foot = 'M138 14C136 40 136 62 132 76C126 88 124 100 118 112C110 126 102 134 98 142M186 14C186 36 188 54 190 70C200 80 204 94 196 108C188 118 182 126 180 142C182 150 184 156 184 162M98 142C90 162 80 180 72 196H186C188 184 186 172 184 162M98 142C122 132 156 138 184 162M100 150C124 140 154 146 180 166M168 14C168 40 170 60 172 76';
const artery = 'M176 44C178 64 184 80 182 98C178 112 168 124 162 138';
const wall = 'M104 158l-10 16M116 156l-10 16M128 157l-10 16M140 160l-10 16M94 178l-10 16M106 178l-10 16M118 178l-10 16M130 178l-10 16';

/** What the hand does at a place that the horse as a whole is too small for: the drawing, what is marked on it, and rings. */
const near: Record<string, { lines: [string, string, string?][]; rings?: [number, number][] }> = {
  'gum-colour': { lines: [[mouth, '1.6'], [gum, '3']] },
  'gum-moisture': { lines: [[mouth, '1.6'], [gum, '3']] },
  'dark-rim': { lines: [[mouth, '1.6'], [rim, '5']] },
  'capillary-refill': { lines: [[mouth, '1.6']], rings: [[221, 105]] },
  'digital-pulse': { lines: [[foot, '1.6'], [artery, '2.4', '5 5']], rings: [[186, 96], [169, 127]] },
  'hoof-warmth': { lines: [[foot, '1.6'], [wall, '3']] },
};

function canvas(box: string): SVGElement {
  const svg = document.createElementNS(ns, 'svg');
  svg.setAttribute('viewBox', box);
  svg.setAttribute('class', 'where-on');
  return svg;
}

function line(svg: SVGElement, d: string, width: string, dash = ''): void {
  const path = document.createElementNS(ns, 'path');
  for (const [k, v] of Object.entries({ d, fill: 'none', stroke: 'currentColor', 'stroke-width': width, 'stroke-linejoin': 'round', 'stroke-linecap': 'round', 'stroke-dasharray': dash })) {
    if (v) path.setAttribute(k, v);
  }
  svg.append(path);
}

function ring(svg: SVGElement, cx: number, cy: number): void {
  const c = document.createElementNS(ns, 'circle');
  for (const [k, v] of Object.entries({ cx, cy, r: 9, fill: 'none', stroke: 'currentColor', 'stroke-width': 4 })) c.setAttribute(k, String(v));
  svg.append(c);
}

/** The place from near, and in words; undefined for a sign that needs none. */
export function closeUpPicture(sign: string): Child {
  const drawn = near[sign];
  if (!drawn) return undefined;
  const svg = canvas('0 8 328 196');
  svg.setAttribute('aria-hidden', 'true'); // the words say the same
  for (const l of drawn.lines) line(svg, ...l);
  for (const r of drawn.rings ?? []) ring(svg, ...r);
  return h('div', {}, svg, para(say('page.near.' + sign)));
}

/** The drawing for a sign and its sites; undefined where no place on the horse is meant. */
export function horsePicture(sign: string, sites: string[] = []): SVGElement | undefined {
  const at = new Map<string, [number, number]>();
  for (const id of sites.length ? sites : [sign]) {
    const key = feet.test(id) ? id : mirrored(id);
    const place = places[key] ?? (sites.length ? places[sign] : undefined);
    if (place) at.set(key, place);
  }
  if (at.size === 0) return undefined;
  const svg = canvas('0 14 328 206');
  svg.setAttribute('role', 'img');
  const named = (sites.length ? sites : []).map(siteName);
  svg.setAttribute('aria-label', named.length ? say('page.drawn', { sites: list(named) }) : say('page.drawn.one'));
  line(svg, horse, '1.6');
  // Round the girth and along the body, for the weight by tape.
  if (sign === 'weight') line(svg, 'M126 74C134 100 132 128 124 148M92 116H264', '3', '6 4');
  else for (const place of at.values()) ring(svg, ...place);
  return svg;
}
