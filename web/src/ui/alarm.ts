/** Sound and vibration. Each can be turned off, but for STOP inside a lift; neither ever comes alone. */

import { looks } from "./looks";

let audio: AudioContext | undefined;

/** A browser lets sound out only after a press: *I have read it* unlocks it. */
export function unlockSound(): void {
  audio ??= new AudioContext();
  void audio.resume();
}

function tone(hz: number, fromMs: number, forMs: number): void {
  if (!audio) return;
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

export function buzz(pattern: number | number[]): void {
  if (looks.value.vibration) navigator.vibrate?.(pattern);
}
