/** Mine: what only I see. Limit, PIN, phones. */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { leavePresses } from "../../app/leaving";
import { rows } from "../../app/mirror";
import { me } from "../../app/session";
import { useNow } from "../askNow";
import { type Code, CodeToScan } from "../CodeToScan";
import { CalendarAddress } from "../days/CalendarAddress";
import { NewPin, NOTHING_TYPED, newPinTrouble } from "../NewPin";
import { Button, Choice, LinkButton, NoticeLine, RefusalPanel, TextField } from "../parts";
import { Screen } from "../Screen";
import { ShutOut } from "../ShutOut";
import { usePost } from "../usePost";
import { roleWords, skillWords } from "../words/crew";
import { moment } from "../words/times";

interface Private {
  limit_kg: string | null;
  guideline_kg: 25 | 16 | null;
}
interface Device {
  device: string;
  name: string | null;
  shared: boolean;
  this_one: boolean;
  last_seen_ms: number;
  shut_out: boolean;
}

function Limit(): JSX.Element {
  const [mine, setMine] = useState<Private | null>(null);
  const [kept, setKept] = useState(false);
  const post = usePost();
  useEffect(() => {
    void post.send<Private>("GET", "/api/me/private").then(setMine);
  }, []);
  if (!mine)
    return <NoticeLine>{post.problem ? "Shown when connected." : "Fetching what only you see"}</NoticeLine>;
  const limit = mine.limit_kg ?? "";
  const wrong =
    limit && !/^\d{1,3}([.,]\d)?$/.test(limit) ? "Type a number of kg, such as 15 or 12,5." : undefined;
  return (
    <div class="stack">
      <p>Only you see this. To others, a place that does not suit you reads like one you did not take.</p>
      <TextField
        label="I lift at most, in kg"
        value={limit}
        wrong={wrong}
        onType={(limit_kg) => setMine({ ...mine, limit_kg })}
      />
      <Choice
        legend="Published guideline figure that suits me"
        chosen={mine.guideline_kg === null ? undefined : String(mine.guideline_kg)}
        onChoose={(figure) => setMine({ ...mine, guideline_kg: figure === "25" ? 25 : 16 })}
        options={[
          { key: "25", word: "25 kg", second: "the figure the guidance prints for men" },
          { key: "16", word: "16 kg", second: "the figure it prints for women" },
        ]}
      />
      {mine.guideline_kg === null && (
        <p class="field-help">As long as you have not said, places are judged for 16 kg.</p>
      )}
      {post.problem && <RefusalPanel sentence={post.problem.detail} remedy={post.problem.way_on} />}
      <Button
        label="Set my limit"
        kind="act"
        blocked={wrong}
        onPress={async () => {
          const body = {
            ...mine,
            limit_kg: limit ? limit.replace(",", ".") : null,
            leave_as: leavePresses(),
          };
          setKept((await post.send("PUT", "/api/me/private", body)) !== null);
        }}
      />
      {kept && (
        <NoticeLine>Kept. A place you hold in a lift is free again where it no longer suits you.</NoticeLine>
      )}
    </div>
  );
}

function Pin({ role }: { role: string }): JSX.Element {
  const [old, setOld] = useState("");
  const [fresh, setFresh] = useState(NOTHING_TYPED);
  const [done, setDone] = useState(false);
  const post = usePost();
  return (
    <div class="stack">
      <TextField
        label="PIN now"
        kind="password"
        value={old}
        onType={setOld}
        autocomplete="current-password"
      />
      <NewPin label="New PIN" typed={fresh} onType={setFresh} />
      {post.problem && <RefusalPanel sentence={post.problem.detail} remedy={post.problem.way_on} />}
      <Button
        label="Change my PIN"
        blocked={newPinTrouble(fresh, role)}
        onPress={async () => {
          const changed = (await post.send("PUT", "/api/me/pin", { old, new: fresh.pin })) !== null;
          setDone(changed);
          if (changed) setOld("");
          if (changed) setFresh(NOTHING_TYPED);
        }}
      />
      {done && <NoticeLine>Your PIN is changed.</NoticeLine>}
    </div>
  );
}

function Phones(): JSX.Element {
  const [phones, setPhones] = useState<Device[]>([]);
  const post = usePost();
  const asking = useNow();
  const fetch = () =>
    void post.send<Device[]>("GET", "/api/me/devices").then((answer) => setPhones(answer ?? []));
  useEffect(fetch, []);
  return (
    <ul class="place-list">
      {phones.map((phone) => (
        <li key={phone.device} class="place-line">
          <span class="place-word">
            {phone.this_one ? "This phone" : (phone.name ?? "Another phone")}
            {phone.shut_out ? " · shut out" : ""}
          </span>
          <span class="place-second">last seen {moment(phone.last_seen_ms)}</span>
          {!phone.this_one && !phone.shut_out && (
            <ShutOut
              device={phone.device}
              person={me.value?.person ?? ""}
              which={`${phone.name ?? "Another phone"} of yours, last seen ${moment(phone.last_seen_ms)}`}
              asking={asking}
              onDone={fetch}
            />
          )}
        </li>
      ))}
    </ul>
  );
}

export default function Mine(): JSX.Element {
  const [code, setCode] = useState<Code | null>(null);
  const post = usePost();
  const mine = rows("member").get(me.value?.person ?? "");
  if (code) {
    return (
      <CodeToScan
        title="Another phone of mine"
        code={code}
        again="That is done"
        onAgain={() => setCode(null)}
      />
    );
  }
  return (
    <Screen title={me.value?.name ?? "Me"} place="crew">
      <div class="stack">
        {mine && <p>{[roleWords(mine), skillWords(mine)].filter(Boolean).join(" · ")}</p>}
        {mine?.role === "lead" && <LinkButton label="Change my role or skills" href={`/crew/${mine.id}`} />}
        <LinkButton label="Hours I can come" href="/crew/me/hours" />
        {mine && !mine.minor && mine.role !== "viewer" && (
          <>
            <h2>What I lift</h2>
            <Limit />
          </>
        )}
        <h2>My calendar</h2>
        <CalendarAddress whose="mine" />
        <h2>PIN</h2>
        <Pin role={mine?.role ?? "helper"} />
        <h2>My phones</h2>
        <Phones />
        {post.problem && <RefusalPanel sentence={post.problem.detail} remedy={post.problem.way_on} />}
        <Button
          label="A code for another phone of mine"
          onPress={async () => setCode(await post.send<Code>("POST", "/api/me/devices", {}))}
        />
      </div>
    </Screen>
  );
}
