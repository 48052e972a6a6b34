/** Going from place to place inside the app. Links are plain `<a href>`; this keeps the page while they are followed. */

import { navigate } from "wouter-preact/use-browser-location";

/** What is shown anew is seen from its top: on a phone the page scrolls, on a wide screen the column it stands in. */
export function toTop(): void {
  scrollTo(0, 0);
  for (const column of document.querySelectorAll(".layout-main:not(.layout-behind), .layout-detail")) {
    column.scrollTop = 0;
  }
}

export function go(address: string, options?: { replace?: boolean }): void {
  navigate(address, options);
  toTop();
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
    toTop();
    document.getElementById("main")?.focus({ preventScroll: true });
  });
}
