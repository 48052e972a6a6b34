import { signal } from "@preact/signals";

/**
 * How the app's own files stand on this phone.
 * - `network`: they come from the server each time (plain HTTP has no service worker)
 * - `kept`: they are on the phone; the app opens with no network
 * - `waiting`: a newer version is here and waits for the person's yes
 * - `taken`: the person said yes, and it takes over in a moment
 * - `replaced`: another tab said yes; this one must reload before it opens a new screen
 */
export type ShellState = "network" | "kept" | "waiting" | "taken" | "replaced";

export const shellState = signal<ShellState>("network");

let registered: ServiceWorkerRegistration | null = null;
let saidYesHere = false;

/** A newer one waits. A yes that was said while another one waited holds for it too. */
function offer(): void {
  if (saidYesHere) takeNewVersion();
  else shellState.value = "waiting";
}

/** Registers the service worker where the browser allows one; does nothing over plain HTTP. */
export async function keepShell(): Promise<void> {
  if (!("serviceWorker" in navigator)) return;
  const container = navigator.serviceWorker;
  // The first worker of a phone takes over quietly: there was no older version to leave.
  let hadController = container.controller !== null;
  container.addEventListener("controllerchange", () => {
    if (saidYesHere) location.reload();
    else shellState.value = hadController ? "replaced" : "kept";
    hadController = true;
  });
  const registration = await container.register("/sw.js");
  registered = registration;
  lookAgain(registration);
  if (hadController) shellState.value = "kept";
  if (registration.waiting) offer();
  registration.addEventListener("updatefound", () => {
    const coming = registration.installing;
    coming?.addEventListener("statechange", () => {
      if (coming.state === "installed" && hadController) offer();
    });
  });
}

const LOOK_AGAIN_MS = 3_600_000;

/** A browser looks for a new version when a page is loaded; an app that stays open for days asks when it is shown. */
function lookAgain(registration: ServiceWorkerRegistration): void {
  let looked = Date.now();
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState !== "visible" || Date.now() - looked < LOOK_AGAIN_MS) return;
    looked = Date.now();
    registration.update().catch(() => undefined); // no connection: the next time
  });
}

/** The person's yes to the version that waits: it takes over and the page reloads. */
export function takeNewVersion(): void {
  saidYesHere = true;
  shellState.value = "taken";
  registered?.waiting?.postMessage("take-over"); // whichever waits now: another may have come since it was offered
}
