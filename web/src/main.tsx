import { render } from "preact";
import { keepInstallOffer } from "./app/install";
import { refreshOutbox } from "./app/outbox";
import { start } from "./app/session";
import { keepShell } from "./app/shell";
import { forgetOldKept, onAnswer } from "./sync/exchange";
import { App, fetchFirstScreen } from "./ui/App";
import { unlockAtFirstPress } from "./ui/alarm";
import { followLinks } from "./ui/go";
import { loadLooks } from "./ui/looks";
import { watchCalls } from "./ui/watch";
import "./ui/style/all.css";

const root = document.getElementById("app");
if (!root) throw new Error("index.html has no #app element");
fetchFirstScreen(location.pathname);
root.replaceChildren(); // what index.html shows until the script is here
render(<App />, root);
followLinks();
unlockAtFirstPress();
keepInstallOffer();
watchCalls();
onAnswer(() => refreshOutbox());
void loadLooks();
void refreshOutbox();
void start();
void forgetOldKept();
void keepShell();
