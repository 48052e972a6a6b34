/** A calendar address that calendar programs subscribe to: mine, or the crew's for a lead. */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { build } from "../../app/session";
import type { components } from "../../wire/schema";
import { Button, NoticeLine, RefusalPanel } from "../parts";
import { usePost } from "../usePost";

type FeedAddress = components["schemas"]["FeedAddress"];

export function CalendarAddress({ whose }: { whose: "mine" | "crew" }): JSX.Element {
  const [feed, setFeed] = useState<FeedAddress | null>(null);
  const [copied, setCopied] = useState(false);
  const post = usePost();
  const path = `/api/builds/${build.value?.id ?? ""}/feeds/${whose}`;
  useEffect(() => {
    void post.send<FeedAddress>("GET", path).then(setFeed);
  }, [path]);
  const ask = async (to: string) => {
    const answer = await post.send<FeedAddress>("POST", to, {});
    if (answer) setFeed(answer);
    setCopied(false);
  };
  const address = feed?.address;
  return (
    <div class="stack">
      <p>
        {whose === "mine"
          ? "Your build days and lifts in your own calendar. Subscribe to this address there."
          : "The whole crew's build days. Subscribe to this address in a calendar."}{" "}
        Whoever has the address can read it: give it to nobody else.
      </p>
      {post.problem && <RefusalPanel sentence={post.problem.detail} remedy={post.problem.way_on} />}
      {address ? (
        <>
          <p class="code-line">{address}</p>
          <div class="row-of-buttons">
            {navigator.clipboard && ( // not on plain http: there it is marked and copied by hand
              <Button
                label={copied ? "Copied" : "Copy the address"}
                onPress={() => void navigator.clipboard.writeText(address).then(() => setCopied(true))}
              />
            )}
            <Button label="Make a new one" onPress={() => void ask(path)} />
            <Button label="End it" kind="quiet" onPress={() => void ask(`${path}/end`)} />
          </div>
        </>
      ) : (
        <Button label="Make a calendar address" onPress={() => void ask(path)} />
      )}
      {address && <NoticeLine>A new one ends the old one at once.</NoticeLine>}
    </div>
  );
}
