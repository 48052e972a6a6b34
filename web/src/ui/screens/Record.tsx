/** The record: every entry as it was written, newest first, and whether the chain holds. */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { head, rows } from "../../app/mirror";
import { build, fullNameOf } from "../../app/session";
import { Button, EmptyState, NoticeLine, RefusalPanel } from "../parts";
import { Screen } from "../Screen";
import { TypedKept } from "../TypedKept";
import { usePost } from "../usePost";
import { moment } from "../words/times";

interface Line {
  number: number;
  kind: string;
  by: string | null; // null, with the time and what it says: not for this person to read
  at_ms: number | null;
  digest: string;
  data: Record<string, unknown> | null;
}
interface Verified {
  holds: boolean;
  entries: number;
  head: string;
  problems: string[];
  withdrawn: number;
  photos_awaited: number;
}
const PAGE = 40;

/** A bolt group or a gate by its name; tasks and lifts are known by their numbers. */
function named(id: string): string {
  return rows("group").get(id)?.plan.name ?? rows("gate").get(id)?.plan.name ?? id.slice(0, 24);
}

/** "task.taken": the subject and what happened to it, as words. */
function words(line: Line): string {
  const about = ["task", "group", "lift", "gate", "loose_end", "id"]
    .map((field) => line.data?.[field])
    .find((one) => typeof one === "string");
  return `${line.kind.replace(".", " ").replaceAll("_", " ")}${about ? ` · ${named(String(about))}` : ""}`;
}

export default function Record(): JSX.Element {
  const [lines, setLines] = useState<Line[]>([]);
  const [from, setFrom] = useState<number | null>(null);
  const [verified, setVerified] = useState<Verified | null>(null);
  const post = usePost();
  const here = build.value?.id ?? "";
  const last = head.value?.number ?? 0;
  const first = from ?? Math.max(1, last - PAGE + 1);
  useEffect(() => {
    if (!last) return;
    void post
      .send<{ entries: Line[] }>("GET", `/api/builds/${here}/record?from=${first}&count=${PAGE}`)
      .then((answer) => answer && setLines([...answer.entries].reverse()));
  }, [here, first, last]);
  return (
    <Screen title="Record" place="record">
      <div class="stack">
        <p>
          {last === 1 ? "1 entry" : `${last} entries`}. Each holds the digest of the one before; nothing is
          changed or removed.
        </p>
        <Button
          label="Check the chain"
          onPress={async () =>
            setVerified(await post.send<Verified>("GET", `/api/builds/${here}/record/verify`))
          }
        />
        {verified &&
          (verified.holds ? (
            <NoticeLine>
              The chain holds over {verified.entries} entries. Last digest {verified.head.slice(0, 16)}.
              {verified.withdrawn > 0 &&
                ` ${verified.withdrawn} notes or photos were withdrawn, each with a reason.`}
              {verified.photos_awaited > 0 &&
                ` Not here yet: ${verified.photos_awaited} photos that entries name; phones send them apart.`}
            </NoticeLine>
          ) : (
            <RefusalPanel sentence="The chain does not hold." remedy={verified.problems.join(" ")} />
          ))}
        {post.problem && <RefusalPanel sentence={post.problem.detail} remedy={post.problem.way_on} />}
        {lines.length === 0 && !post.problem && <EmptyState sentence="Shown when connected." />}
        <ol class="place-list" reversed start={lines[0]?.number}>
          {lines.map((line) => (
            <li key={line.number} class="place-line">
              <span class="place-word">
                {line.number} · {words(line)}
              </span>
              <span class="place-second">
                {line.by !== null && line.at_ms !== null
                  ? `${fullNameOf(line.by)}, ${moment(line.at_ms)}`
                  : "open to whom it concerns and the lead"}{" "}
                · {line.digest.slice(0, 12)}
              </span>
              {line.kind === "evidence.kept" && Array.isArray(line.data?.asks) && (
                <TypedKept asks={line.data.asks} />
              )}
            </li>
          ))}
        </ol>
        <div class="row-of-buttons">
          {first > 1 && <Button label="Older" onPress={() => setFrom(Math.max(1, first - PAGE))} />}
          {from !== null && <Button label="Newest" onPress={() => setFrom(null)} />}
        </div>
      </div>
    </Screen>
  );
}
