/** The Bench: anyone does these sums in any unit, without touching the build. */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { fact, setFact } from "../../local/store";
import type { components } from "../../wire/schema";
import { PlaceList } from "../PlaceList";
import { EmptyState, RefusalPanel, TextField } from "../parts";
import { Screen } from "../Screen";
import { usePost } from "../usePost";

type Line = components["schemas"]["Line"];

export default function Bench(): JSX.Element {
  const [lines, setLines] = useState<Line[]>([]);
  const [wanted, setWanted] = useState("");
  const post = usePost();
  useEffect(() => {
    void fact<Line[]>("bench").then((kept) => kept && setLines((now) => (now.length > 0 ? now : kept)));
    void post.send<Line[]>("GET", "/api/bench").then((answer) => {
      if (!answer) return;
      setLines(answer);
      void setFact("bench", answer);
    });
  }, []);
  const found = lines.filter((line) =>
    `${line.title} ${line.subject}`.toLowerCase().includes(wanted.trim().toLowerCase()),
  );
  const subjects = [...new Set(found.map((line) => line.subject))];
  return (
    <Screen title="Bench" place="bench">
      <div class="stack">
        <p>
          Sums of the trade, each with its formula, source and limits. They guide; the kit's manual comes
          first.
        </p>
        <TextField label="What do you want to know?" kind="search" value={wanted} onType={setWanted} />
        {post.problem && lines.length === 0 && (
          <RefusalPanel sentence={post.problem.detail} remedy={post.problem.way_on} />
        )}
        {lines.length > 0 && found.length === 0 && (
          <EmptyState sentence="Nothing by that word. Try thread, share, wire, hose." />
        )}
        {subjects.map((subject) => (
          <section key={subject} class="stack" aria-label={subject}>
            <h2>{subject}</h2>
            <PlaceList
              places={found
                .filter((line) => line.subject === subject)
                .map((line) => ({
                  key: line.name,
                  word: line.title.replaceAll("`", ""),
                  href: `/bench/${line.name}`,
                }))}
            />
          </section>
        ))}
      </div>
    </Screen>
  );
}
