// Files out of the page: kept on the device, or handed to another app where the browser can.

import { say } from '../core/words';
import { type Child, h, link } from './dom';

export interface FileToSave { name: string; type: string; text: string }

/** A name that every file system takes. */
export const fileName = (...parts: string[]): string =>
  parts.map(p => p.normalize('NFKD').replace(/[^A-Za-z0-9.-]+/g, '-').replace(/^[-.]+|[-.]+$/g, '')).filter(Boolean).join('-').slice(0, 80) || 'whorl';

export function download(f: FileToSave): void {
  const url = URL.createObjectURL(new Blob([f.text], { type: f.type }));
  const a = h('a', { href: url, download: f.name });
  document.body.append(a);
  a.click();
  a.remove();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

/** The file as the browser would share it: JSON is shared as text, since some refuse JSON. */
function shareable(f: FileToSave): File | undefined {
  if (!navigator.canShare || !navigator.share) return undefined;
  const text = f.type.includes('json') ? new File([f.text], f.name + '.txt', { type: 'text/plain' }) : undefined;
  for (const file of [new File([f.text], f.name, { type: f.type }), text]) {
    if (file && navigator.canShare({ files: [file] })) return file;
  }
  return undefined;
}

const sharing = (): boolean => !!navigator.canShare?.({ files: [new File(['x'], 'x.txt', { type: 'text/plain' })] });

/**
 * Two ways out for a file that is made when it is asked for: keep it, and, where the
 * browser has a share sheet, hand it on. done runs when it is out.
 */
export function saveButtons(label: string, id: string, make: () => Promise<FileToSave | undefined>, done?: () => void | Promise<void>): Child {
  const save = async (): Promise<void> => {
    const f = await make();
    if (!f) return;
    download(f);
    await done?.();
  };
  const share = async (): Promise<void> => {
    const f = await make();
    if (!f) return;
    const file = shareable(f);
    try {
      if (!file) throw new Error('no share');
      await navigator.share({ files: [file], title: f.name });
    } catch (e) {
      // A person who changed their mind has nothing to keep.
      if (e instanceof DOMException && e.name === 'AbortError') return;
      download(f);
    }
    await done?.();
  };
  return h('div', { class: 'giving' }, h('span', { class: 'answer' }, label),
    link(say('page.give.save'), () => void save(), { id: id + '-save', 'aria-label': `${say('page.give.save')}: ${label}` }),
    sharing() && link(say('page.give.share'), () => void share(), { id: id + '-share', 'aria-label': `${say('page.give.share')}: ${label}` }));
}

/** Copies a text; where there is no right to the clipboard it is laid out, marked, to be copied by hand. */
export async function copyText(text: string, box: HTMLTextAreaElement): Promise<boolean> {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    box.value = text;
    box.hidden = false;
    box.focus();
    box.select();
    return false;
  }
}
