/** Sound and vibration. Each can be turned off, but for STOP inside a lift; neither ever comes alone. */

import { looks } from "./looks";

let audio: AudioContext | undefined;

/** A browser lets sound out only after a press, and stops it again when a call or another app takes it: any press mends that. */
export function unlockSound(): void {
  audio ??= new AudioContext();
  if (audio.state !== "running") void audio.resume();
}

export function unlockAtPresses(): void {
  document.addEventListener("click", unlockSound, { capture: true });
}

function tone(hz: number, fromMs: number, forMs: number): void {
  if (audio?.state !== "running") return;
  const oscillator = audio.createOscillator();
  const gain = audio.createGain();
  oscillator.frequency.value = hz;
  gain.gain.value = 0.3;
  oscillator.connect(gain).connect(audio.destination);
  const at = audio.currentTime + fromMs / 1000;
  oscillator.start(at);
  oscillator.stop(at + forMs / 1000);
}

/** Three times 800 ms with two tones, whatever the settings say. */
export function soundStop(): void {
  navigator.vibrate?.([800, 200, 800, 200, 800]);
  for (const begin of [0, 1000, 2000]) {
    tone(880, begin, 400);
    tone(440, begin + 400, 400);
  }
}

interface Alarm {
  /** ms on, off, on... */
  pattern: readonly number[];
  hz?: number;
}

const ALARMS = {
  lift_called: { pattern: [400, 200, 400], hz: 660 },
  check_waits: { pattern: [150, 100, 150], hz: 880 },
  reading_kept: { pattern: [40] },
  refused: { pattern: [600], hz: 165 },
} as const satisfies Record<string, Alarm>;

export function alarm(which: keyof typeof ALARMS): void {
  const { pattern, hz }: Alarm = ALARMS[which];
  if (looks.value.vibration) navigator.vibrate?.([...pattern]);
  if (!looks.value.sound || hz === undefined) return;
  let from = 0;
  pattern.forEach((ms, index) => {
    if (index % 2 === 0) tone(hz, from, ms);
    from += ms;
  });
}
