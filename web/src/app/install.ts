/** Putting the app on the home screen, where the browser offers to. */

import { signal } from "@preact/signals";

/** What Chromium hands out with `beforeinstallprompt`; not in TypeScript's own types. */
interface InstallOffer extends Event {
  prompt(): Promise<unknown>;
}

export const installOffer = signal<InstallOffer | null>(null);

/** Keeps the browser's offer until the person asks for it under *This phone*; it is good for one time. */
export function keepInstallOffer(): void {
  window.addEventListener("beforeinstallprompt", (event) => {
    event.preventDefault();
    installOffer.value = event as InstallOffer;
  });
  window.addEventListener("appinstalled", () => {
    installOffer.value = null;
  });
}

export async function putOnHomeScreen(): Promise<void> {
  const offer = installOffer.value;
  installOffer.value = null;
  await offer?.prompt();
}
