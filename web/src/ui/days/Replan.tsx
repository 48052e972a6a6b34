/** Re-plan: a plan worked out at once, what moves and what stays, and taking it. Nothing changes before that. */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { build } from "../../app/session";
import { call } from "../../wire/call";
import type { components } from "../../wire/schema";
import { useNow } from "../askNow";
import { namesOf } from "../lift/words";
import { Button, MainButton, NoticeLine, RefusalPanel } from "../parts";
import { usePost } from "../usePost";
import { moment } from "../words/times";
import { WhyNot } from "./WhyNot";
import { movesWords, pieceWords } from "./words";

type Offered = components["schemas"]["PlanOffered"];
type Line = Offered["differences"][number];

/** How the search for a better one stands. */
function standing(offered: Offered): string {
  if (offered.waiting)
    return "Other builds are being planned; this one is looked at next. You may take this plan now.";
  if (offered.working)
    return `Looking for a better one; ${offered.better_found} found so far. You may take this one now.`;
  if (offered.broke)
    return "Looking for a better one ended early, most likely for want of memory. This plan stands.";
  return offered.better_found > 0 ? "Nothing better was found after that." : "This is what was found.";
}

function said(line: Line): string {
  const about = pieceWords(line.task, line.check, line.step);
  if (line.kind === "added") return `${about}: new, ${line.now_ms ? moment(line.now_ms) : ""}`;
  if (line.kind === "removed") return `${about}: no place any more`;
  if (line.kind === "team") return `${about}: ${namesOf(line.was_people)} → ${namesOf(line.now_people)}`;
  return `${about}: ${line.was_ms ? moment(line.was_ms) : ""} → ${line.now_ms ? moment(line.now_ms) : ""}`;
}

export function Replan(): JSX.Element {
  const [offered, setOffered] = useState<Offered | null>(null);
  const [all, setAll] = useState(false);
  const post = usePost();
  const asking = useNow();
  const problem = post.problem ?? asking.problem;
  const path = `/api/builds/${build.value?.id ?? ""}/days/plan`;
  const working = offered?.working === true;
  // While better plans are looked for, the best so far is shown and may be taken.
  useEffect(() => {
    if (!working) return undefined;
    const timer = setInterval(() => {
      call<Offered>("GET", path).then(
        (answer) => setOffered((shown) => (shown ? answer.body : null)),
        () => undefined, // asked again in a moment
      );
    }, 1_500);
    return () => clearInterval(timer);
  }, [working, path]);
  const lines = offered?.differences ?? [];
  const leave = () => {
    if (working) void post.send("POST", `${path}/end`, {});
    setOffered(null);
  };
  return (
    <div class="stack">
      {problem && <RefusalPanel sentence={problem.detail} remedy={problem.way_on} />}
      {!offered ? (
        <MainButton
          label={post.busy ? "Planning" : "Re-plan"}
          onPress={async () => setOffered(await post.send<Offered>("POST", path, {}))}
        />
      ) : (
        <section class="stack" aria-label="New plan">
          <h3>New plan</h3>
          <p role="status">{standing(offered)}</p>
          <p>
            All work ends {offered.finish.word}.{" "}
            {offered.gates.map((gate) => `${gate.name}: ${gate.by_plan.word}.`).join(" ")}
          </p>
          <p>{movesWords(lines.length, offered.stays, offered.shifted)}</p>
          <ul class="place-list">
            {(all ? lines : lines.slice(0, 8)).map((line) => (
              <li key={`${line.task}-${line.check}-${line.step}`} class="place-line">
                <span class="place-word">{said(line)}</span>
                <span class="place-second">{line.title}</span>
              </li>
            ))}
          </ul>
          {lines.length > 8 && !all && (
            <Button label={`Show all ${lines.length} changes`} onPress={() => setAll(true)} />
          )}
          {offered.unplaced.length > 0 && (
            <NoticeLine>No place found for {offered.unplaced.join(", ")}.</NoticeLine>
          )}
          {offered.reasons.length > 0 && (
            <>
              <h4>Why not</h4>
              <WhyNot reasons={offered.reasons} working={offered.working} />
            </>
          )}
          <MainButton
            label="Take this plan"
            onPress={async () => {
              if (await asking.ask("/days/take", { offer: offered.offer })) leave();
            }}
          />
          {working && (
            <Button
              label="Look no further"
              onPress={async () => {
                const best = await post.send<Offered>("POST", `${path}/end`, {});
                if (best) setOffered(best);
              }}
            />
          )}
          <Button label="Leave it as it is" kind="quiet" onPress={leave} />
        </section>
      )}
    </div>
  );
}
