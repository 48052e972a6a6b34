import { render } from "preact";
import { keepFetchingAhead } from "./app/ahead";
import { takeInAnswers } from "./app/answers";
import { keepInstallOffer } from "./app/install";
import { afterTheFirstScreen } from "./app/later";
import { refreshPhotos } from "./app/photos";
import { start } from "./app/session";
import { keepShell } from "./app/shell";
import { watchTablet } from "./app/tablet";
import { forgetOldSent } from "./local/sentPhotos";
import { forgetOldKept } from "./sync/exchange";
import { App, fetchFirstScreen } from "./ui/App";
import { unlockAtPresses } from "./ui/alarm";
import { followLinks } from "./ui/go";
import { isLive, myLift } from "./ui/lift/live";
import { loadLooks } from "./ui/looks";
import { watchCalls } from "./ui/watch";
import "./ui/style/all.css";

const root = document.getElementById("app");
if (!root) throw new Error("index.html has no #app element");
root.replaceChildren(); // what index.html shows until the script is here
render(<App />, root);
keepInstallOffer();
// Each in a turn of its own, so that a slow phone draws and hears between them.
const turns: (() => void)[] = [
  () => {
    takeInAnswers();
    void loadLooks();
    void start();
  },
  () => fetchFirstScreen(location.pathname),
  () => {
    followLinks();
    unlockAtPresses();
    keepFetchingAhead();
    watchCalls();
    watchTablet(() => isLive(myLift()));
    void refreshPhotos();
  },
];
for (const turn of turns) setTimeout(turn);
afterTheFirstScreen(
  () => void keepShell(),
  () => void forgetOldKept(),
  () => void forgetOldSent(),
);
