/** How this phone looks and sounds: kept on the phone, changed under *This phone*. Dark whatever the phone says. */

import { effect, signal } from "@preact/signals";
import { fact, setFact } from "../local/store";

export interface Looks {
  theme: "dark" | "light";
  leftHand: boolean;
  sound: boolean;
  vibration: boolean;
}

export const looks = signal<Looks>({ theme: "dark", leftHand: false, sound: true, vibration: true });

export async function loadLooks(): Promise<void> {
  const kept = await fact<Looks>("looks");
  if (kept) looks.value = { ...looks.value, ...kept };
  effect(() => {
    const root = document.documentElement;
    root.dataset.theme = looks.value.theme;
    root.dataset.hand = looks.value.leftHand ? "left" : "right";
  });
}

export function setLooks(change: Partial<Looks>): void {
  looks.value = { ...looks.value, ...change };
  void setFact("looks", looks.value);
}
