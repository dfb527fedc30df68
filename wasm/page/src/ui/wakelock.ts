import { onLeave } from './screen';

/** Holds the screen awake until the screen is left; where that does not exist, nothing is
 * lost. Told says each time whether it holds. */
export function stayAwake(told?: (held: boolean) => void): void {
  let lock: WakeLockSentinel | undefined;
  const ask = (): void => {
    if (!navigator.wakeLock) told?.(false);
    else if (document.visibilityState === 'visible') {
      navigator.wakeLock.request('screen').then(l => { lock = l; told?.(true); }, () => told?.(false));
    }
  };
  ask();
  document.addEventListener('visibilitychange', ask);
  onLeave(() => { document.removeEventListener('visibilitychange', ask); void lock?.release(); });
}
