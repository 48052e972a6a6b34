/** In the demo a visitor may pick a person, clearly marked. */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { start } from "../../app/session";
import { go } from "../go";
import { DemoBanner, RefusalPanel } from "../parts";
import { usePost } from "../usePost";

interface DemoPerson {
  person: string;
  name: string;
  role: string;
  second: string;
  pin: string;
}

export default function DemoPick(): JSX.Element {
  const [crew, setCrew] = useState<DemoPerson[]>([]);
  const post = usePost();
  useEffect(() => {
    void post.send<DemoPerson[]>("GET", "/api/demo/crew").then((answer) => setCrew(answer ?? []));
  }, []);
  return (
    <main id="main" class="one-question stack">
      <DemoBanner />
      <h1>Who are you today?</h1>
      <p>An invented crew on an invented car. Open this address on several phones, and be several people.</p>
      {post.problem && <RefusalPanel sentence={post.problem.detail} remedy={post.problem.way_on} />}
      <ul class="pick-list">
        {crew.map((one) => (
          <li key={one.person}>
            <button
              type="button"
              class="pick"
              onClick={async () => {
                if ((await post.send("POST", "/api/demo/pick", { person: one.person })) === null) return;
                // Before the queue shows: whoever presses on at once is not called back. A sum sent on stays.
                if (!location.pathname.startsWith("/bench/")) go("/", { replace: true });
                await start();
              }}
            >
              <span class="pick-name">{one.name}</span>
              <span class="pick-second">
                {one.role} · {one.second}
              </span>
              <span class="pick-second">PIN {one.pin}</span>
            </button>
          </li>
        ))}
      </ul>
    </main>
  );
}
