/** Going from place to place inside the app. Links are plain `<a href>`; this keeps the page while they are followed. */

import { navigate } from "wouter-preact/use-browser-location";

export function go(address: string, options?: { replace?: boolean }): void {
  navigate(address, options);
  scrollTo(0, 0);
}

/** Follow the app's own links without loading the page anew. */
export function followLinks(): void {
  document.addEventListener("click", (event) => {
    if (
      event.defaultPrevented ||
      event.button !== 0 ||
      event.metaKey ||
      event.ctrlKey ||
      event.shiftKey ||
      event.altKey
    )
      return;
    const anchor = (event.target as Element | null)?.closest?.("a[href]");
    if (!(anchor instanceof HTMLAnchorElement) || anchor.target || anchor.hasAttribute("download")) return;
    const to = new URL(anchor.href);
    if (to.origin !== location.origin || to.pathname.startsWith("/api/")) return;
    if (to.pathname === location.pathname && to.hash) return; // the skip link
    event.preventDefault();
    navigate(to.pathname + to.search + to.hash);
    scrollTo(0, 0);
    document.getElementById("main")?.focus({ preventScroll: true });
  });
}
