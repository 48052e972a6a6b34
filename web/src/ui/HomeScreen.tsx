/** How Yokemate gets onto the home screen of this phone. Nothing where it was opened from there. */

import type { JSX } from "preact";
import { installOffer, putOnHomeScreen } from "../app/install";
import { Button, NoticeLine } from "./parts";

/** An iPad calls itself a Mac, but a Mac has no touch points. */
function isApple(): boolean {
  return (
    /iPhone|iPad|iPod/.test(navigator.userAgent) ||
    (/Macintosh/.test(navigator.userAgent) && navigator.maxTouchPoints > 1)
  );
}

export function HomeScreen(): JSX.Element | null {
  if (matchMedia("(display-mode: standalone)").matches) return null;
  if (installOffer.value)
    return <Button label="Put it on the home screen" onPress={() => void putOnHomeScreen()} />;
  return (
    <NoticeLine>
      {isApple()
        ? "To put it on the home screen: in Safari press Share, then Add to Home Screen."
        : "To put it on the home screen: open the browser's menu, then Install or Add to home screen."}
    </NoticeLine>
  );
}
