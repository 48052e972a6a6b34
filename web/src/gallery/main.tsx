/** Parts in all their states, for looking at; never part of the production build. Open /gallery.html#tags */

import { render } from "preact";
import { useEffect, useState } from "preact/hooks";
import "../ui/style/all.css";
import { LIFT_PAGES } from "./lifts";
import { NUMBER_PAGES } from "./numbers";
import type { Page } from "./page";
import { PANEL_PAGES } from "./panels";
import { PLAN_PAGES } from "./plan";
import { TAG_PAGES } from "./tags";

const PAGES: readonly Page[] = [...TAG_PAGES, ...PANEL_PAGES, ...NUMBER_PAGES, ...LIFT_PAGES, ...PLAN_PAGES];

function Gallery() {
  const [key, setKey] = useState(location.hash.slice(1));
  useEffect(() => {
    const follow = () => setKey(location.hash.slice(1));
    addEventListener("hashchange", follow);
    return () => removeEventListener("hashchange", follow);
  }, []);
  const page = PAGES.find((p) => p.key === key);
  if (page?.whole) return <page.Show />;
  if (page) {
    return (
      <main class="layout-main">
        <h1>{page.title}</h1>
        <page.Show />
      </main>
    );
  }
  return (
    <main class="layout-main">
      <h1>Parts</h1>
      <ul>
        {PAGES.map((p) => (
          <li key={p.key}>
            <a href={`#${p.key}`}>{p.title}</a>
          </li>
        ))}
      </ul>
    </main>
  );
}

const wanted = new URLSearchParams(location.search);
document.documentElement.dataset.theme = wanted.get("theme") ?? "dark";
document.documentElement.dataset.hand = wanted.get("hand") ?? "right";
const root = document.getElementById("gallery");
if (!root) throw new Error("gallery.html has no #gallery element");
render(<Gallery />, root);
