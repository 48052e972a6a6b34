import { render } from "preact";
import { keepShell } from "./app/shell";
import { App } from "./ui/App";

const root = document.getElementById("app");
if (!root) throw new Error("index.html has no #app element");
render(<App />, root);
void keepShell();
