// Two tabs of the page with one exam: both write to the same record, and both say so.

import type { ID } from '../core/types';

type What = 'wrote' | 'opened' | 'here';
interface Told { what: What; exam: ID }

const channel = typeof BroadcastChannel === 'function' ? new BroadcastChannel('whorl-exam') : undefined;
const tell = (what: What, exam: ID): void => channel?.postMessage({ what, exam } satisfies Told);

export const tellWrote = (exam: ID): void => tell('wrote', exam);
export const tellOpened = (exam: ID): void => tell('opened', exam);

/** Runs when another tab has the exam that this one has (here gives it), or has written to it. */
export function onOtherTab(here: () => ID | undefined, also: (wrote: boolean) => void): void {
  channel?.addEventListener('message', e => {
    const { what, exam } = e.data as Told;
    if (exam !== here()) return;
    if (what === 'opened') tell('here', exam);
    also(what === 'wrote');
  });
}
