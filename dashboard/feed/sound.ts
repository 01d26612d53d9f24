// Beeps made on the spot: no file to load, and loud enough beside an extraction fan.
import type { Ring } from './alarmPlan.ts';

interface Beep {
  readonly pitchPerS: number;
  readonly startS: number;
  readonly lengthS: number;
}

let context: AudioContext | null = null;

/** Whether this browser can make sounds, and whether it may already. */
export function soundNow(): 'ready' | 'locked' | 'none' {
  if (!('AudioContext' in globalThis)) return 'none';
  return context?.state === 'running' ? 'ready' : 'locked';
}

/** Makes the sound ready, as far as the browser lets us; a phone call may take it away again. */
export async function unlockSound(onChange: () => void): Promise<void> {
  if (!('AudioContext' in globalThis)) return;
  if (context === null) {
    context = new AudioContext();
    context.addEventListener('statechange', onChange);
  }
  // Without a tap the promise of some browsers never ends, so nothing may wait for it but the change of state.
  if (context.state !== 'running') await context.resume();
  onChange();
}

/** Plays sounds one after the other: rising twice for a test, quick for a mix about to kick, one low for a warning. */
export function playRings(rings: readonly Ring[]): void {
  if (context === null || context.state !== 'running') return;
  let afterS = 0;
  for (const ring of rings) {
    for (const beep of patterns[ring]) playBeep(context, { ...beep, startS: beep.startS + afterS });
    afterS += Math.max(...patterns[ring].map(({ startS, lengthS }) => startS + lengthS)) + PAUSE_S;
  }
}

function playBeep(audio: AudioContext, { pitchPerS, startS, lengthS }: Beep): void {
  const beginS = audio.currentTime + startS;
  const tone = audio.createOscillator();
  const volume = audio.createGain();
  tone.type = 'triangle';
  tone.frequency.value = pitchPerS;
  volume.gain.setValueAtTime(0, beginS);
  volume.gain.linearRampToValueAtTime(0.5, beginS + 0.02);
  volume.gain.setValueAtTime(0.5, beginS + lengthS - 0.04);
  volume.gain.linearRampToValueAtTime(0, beginS + lengthS);
  tone.connect(volume).connect(audio.destination);
  tone.start(beginS);
  tone.stop(beginS + lengthS);
}

const PAUSE_S = 0.3;

const patterns: Readonly<Record<Ring, readonly Beep[]>> = {
  test: [0, 0.9].flatMap((startS) => [
    { pitchPerS: 784, startS, lengthS: 0.18 },
    { pitchPerS: 988, startS: startS + 0.2, lengthS: 0.18 },
    { pitchPerS: 1319, startS: startS + 0.4, lengthS: 0.3 },
  ]),
  spreadBy: [0, 0.18, 0.36, 0.54].map((startS) => ({ pitchPerS: 1175, startS, lengthS: 0.1 })),
  timer: [0, 0.5, 1].flatMap((startS) => [
    { pitchPerS: 880, startS, lengthS: 0.14 },
    { pitchPerS: 880, startS: startS + 0.2, lengthS: 0.14 },
  ]),
  warning: [{ pitchPerS: 523, startS: 0, lengthS: 0.4 }],
};
