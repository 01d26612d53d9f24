// Beeps made on the spot: no file to load, and loud enough beside an extraction fan.
import type { AlertKind } from '../../server/contract/index.ts';

interface Beep {
  readonly pitchPerS: number;
  readonly startS: number;
  readonly lengthS: number;
}

let context: AudioContext | null = null;

/** Makes the sound ready; true when the browser let us. */
export async function unlockSound(): Promise<boolean> {
  if (!('AudioContext' in globalThis)) return false;
  context ??= new AudioContext();
  if (context.state === 'suspended') await context.resume();
  return context.state === 'running';
}

/** Plays the pattern of an alert: rising for a test, quick for a mix about to kick, one low for the rest. */
export function playPattern(kind: AlertKind): void {
  if (context === null || context.state !== 'running') return;
  for (const beep of patterns[kind]) playBeep(context, beep);
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

const LOW: readonly Beep[] = [{ pitchPerS: 523, startS: 0, lengthS: 0.4 }];

const patterns: Readonly<Record<AlertKind, readonly Beep[]>> = {
  test: [0, 0.9].flatMap((startS) => [
    { pitchPerS: 784, startS, lengthS: 0.18 },
    { pitchPerS: 988, startS: startS + 0.2, lengthS: 0.18 },
    { pitchPerS: 1319, startS: startS + 0.4, lengthS: 0.3 },
  ]),
  spreadBy: [0, 0.18, 0.36, 0.54].map((startS) => ({ pitchPerS: 1175, startS, lengthS: 0.1 })),
  waiting: LOW,
  slowing: LOW,
  condensation: LOW,
  tooCold: LOW,
  tooHot: LOW,
  sensorQuiet: LOW,
  // That something is well again needs no ear.
  sensorBack: [],
};
