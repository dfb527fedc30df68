// Files that the system opens with the page, and those that another app shares. They wait until a person takes them in: another
// site could send a form as well.

import { go } from '../../ui/route';

interface Opened { files?: { getFile(): Promise<File> }[] }

let waiting: File[] = [];

/** Has what the system opens. */
export function takeOpened(): void {
  const queue = (window as { launchQueue?: { setConsumer(take: (opened: Opened) => void): void } }).launchQueue;
  queue?.setConsumer(({ files = [] }) => {
    if (files.length === 0) return;
    void Promise.all(files.map(f => f.getFile())).then(got => {
      waiting.push(...got);
      go('files');
    }, () => undefined);
  });
}

/** What waits: the screen may be drawn several times before a person answers. The worker has laid what was shared into a cache. */
export async function arrived(): Promise<File[]> {
  // Without a cache nothing can have been shared.
  const shared = await self.caches?.match('shared').catch(() => undefined);
  if (shared) {
    for (const name of await caches.keys()) if (name.endsWith('shared')) await caches.delete(name);
    waiting.push(new File([await shared.blob()], decodeURIComponent(shared.headers.get('X-Name') ?? '')));
  }
  return waiting;
}

/** A person has answered. */
export const answered = (file: File): void => { waiting = waiting.filter(f => f !== file); };
