// Alarms: a sound if the person chose it, vibration where there is some, and always what is seen.

let context: AudioContext | undefined;

export const canSound = (): boolean => typeof AudioContext !== 'undefined';
export const canVibrate = (): boolean => typeof navigator.vibrate === 'function';

/** The sound can be heard: a browser allows it only after a touch on this page. */
export const soundReady = (): boolean => context?.state === 'running';

/** Makes the sound ready; to be called inside a touch. */
export async function enableSound(): Promise<boolean> {
  if (!canSound()) return false;
  context ??= new AudioContext();
  await context.resume().catch(() => undefined);
  return soundReady();
}

/** Three tones, soft at their edges: a horse stands near. */
export function sound(): boolean {
  if (!context || !soundReady()) return false;
  for (let i = 0; i < 3; i++) {
    const at = context.currentTime + i * 0.45;
    const gain = new GainNode(context, { gain: 0 });
    gain.gain.setValueAtTime(0, at);
    gain.gain.linearRampToValueAtTime(0.25, at + 0.06);
    gain.gain.linearRampToValueAtTime(0, at + 0.35);
    const tone = new OscillatorNode(context, { frequency: i === 1 ? 880 : 660 });
    tone.connect(gain).connect(context.destination);
    tone.start(at);
    tone.stop(at + 0.4);
  }
  return true;
}

/** One alarm. */
export function soundAlarm(withSound: boolean): void {
  if (canVibrate()) navigator.vibrate([300, 150, 300, 150, 300]);
  if (withSound) sound();
}
