/** The Bench: anyone does these sums in any unit, without touching the build. */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { fact, setFact } from "../../local/store";
import type { components } from "../../wire/schema";
import { Fetching } from "../Fetching";
import { PlaceList } from "../PlaceList";
import { EmptyState, RefusalPanel, TextField } from "../parts";
import { Screen } from "../Screen";
import { usePost } from "../usePost";

type Line = components["schemas"]["Line"];

/** One subject of many, folded: all of them open are three dozen screens of a phone. */
function Subject(props: { subject: string; lines: readonly Line[]; open: boolean }): JSX.Element {
  const { subject, lines, open } = props;
  return (
    <details class="fold" open={open}>
      <summary>
        <h2>
          {subject}: {lines.length}
        </h2>
      </summary>
      <PlaceList
        places={lines.map((line) => ({
          key: line.name,
          word: line.title.replaceAll("`", ""),
          href: `/bench/${line.name}`,
        }))}
      />
    </details>
  );
}

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
  const looking = wanted.trim() !== "";
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
        {!post.problem && lines.length === 0 && <Fetching sentence="Fetching the sums" />}
        {lines.length > 0 && found.length === 0 && (
          <EmptyState sentence="Nothing by that word. Try thread, share, wire, hose." />
        )}
        <div class="beside">
          {subjects.map((subject) => (
            <Subject
              key={`${subject}${looking}`}
              subject={subject}
              lines={found.filter((line) => line.subject === subject)}
              open={looking}
            />
          ))}
        </div>
      </div>
    </Screen>
  );
}
