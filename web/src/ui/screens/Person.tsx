/** Somebody of the crew: role, skills, phones. The lead changes them; nobody sees a limit. */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { inSince } from "../../app/presence";
import { build, fullNameOf, iLead, me, people, shortNameOf, typingFor } from "../../app/session";
import { useNow } from "../askNow";
import { type Code, CodeToScan } from "../CodeToScan";
import { go } from "../go";
import { Button, Choice, EmptyState, LinkButton, NoticeLine, RefusalPanel, Tick } from "../parts";
import { Screen } from "../Screen";
import { ShutOut } from "../ShutOut";
import { TakeOff } from "../TakeOff";
import { usePost } from "../usePost";
import { roleWords, skillWords } from "../words/crew";
import { moment } from "../words/times";

type Role = "lead" | "builder" | "helper" | "viewer";
interface Device {
  device: string;
  name: string | null;
  last_seen_ms: number;
  shut_out: boolean;
}

function LeadPart({ person }: { person: string }): JSX.Element {
  const member = rows("member").get(person);
  const known = rows("build").get("build")?.skills ?? [];
  const [role, setRole] = useState<Role>(member?.role ?? "helper");
  const [skills, setSkills] = useState<string[]>(member?.skills ?? []);
  const [sign, setSign] = useState(member?.may_countersign ?? false);
  const [age, setAge] = useState<"adult" | "no" | "watch" | "with_adult">(member?.minor ?? "adult");
  const [phones, setPhones] = useState<Device[]>([]);
  const [kept, setKept] = useState<string | null>(null);
  const post = usePost();
  const asking = useNow();
  const shutting = useNow();
  const fetch = () =>
    void post
      .send<Device[]>("GET", `/api/builds/${build.value?.id ?? ""}/people/${person}/devices`)
      .then((answer) => setPhones(answer ?? []));
  useEffect(fetch, [person]);
  const tonight = new Date();
  tonight.setHours(23, 59, 0, 0);
  return (
    <div class="stack">
      <Choice<Role>
        legend="Role"
        chosen={role}
        onChoose={setRole}
        options={[
          { key: "lead", word: "Lead" },
          { key: "builder", word: "Builder" },
          { key: "helper", word: "Helper" },
          { key: "viewer", word: "Viewer" },
        ]}
      />
      {role === "lead" && member?.role !== "lead" && (
        <NoticeLine>
          Who leads needs a longer PIN: eight digits or more, or a phrase. If theirs is shorter, they are
          asked for another the next time they type it.
        </NoticeLine>
      )}
      <Choice
        legend="Age"
        chosen={age}
        onChoose={setAge}
        options={[
          { key: "adult", word: "18 or over" },
          { key: "with_adult", word: "Under 18: works with an adult named" },
          { key: "watch", word: "Under 18: watches only" },
          { key: "no", word: "Under 18: no work" },
        ]}
      />
      {age === "adult" && <Tick word="May countersign" ticked={sign} onTick={setSign} />}
      <fieldset class="choices">
        <legend class="field-label">Skills</legend>
        {known.map((skill) => (
          <Tick
            key={skill.id}
            word={skill.say}
            ticked={skills.includes(skill.id)}
            onTick={(on) => setSkills(on ? [...skills, skill.id] : skills.filter((one) => one !== skill.id))}
          />
        ))}
      </fieldset>
      {asking.problem && <RefusalPanel sentence={asking.problem.detail} remedy={asking.problem.way_on} />}
      <Button
        label="Change role"
        kind="act"
        onPress={async () => {
          const gives = { role, skills, minor: age, may_countersign: sign && age === "adult" };
          const done = await asking.ask(`/members/${person}/change`, gives, { seen: true });
          setKept(done && `${shortNameOf(person)} is kept as chosen here.`);
        }}
      />
      <Button
        label="Deputy for today"
        onPress={async () => {
          const done = await asking.ask(`/members/${person}/deputy`, { until_ms: tonight.getTime() });
          setKept(done && `${shortNameOf(person)} is deputy until midnight.`);
        }}
      />
      {kept && <p role="status">{kept}</p>}
      <h2>Phones</h2>
      {phones.length === 0 && (
        <EmptyState sentence="No phone is enrolled. Invite them, or let them use the garage tablet." />
      )}
      <ul class="place-list">
        {phones.map((phone) => (
          <li key={phone.device} class="place-line">
            <span class="place-word">{phone.name ?? "A phone"}</span>
            <span class="place-second">
              {phone.shut_out ? "shut out" : `last seen ${moment(phone.last_seen_ms)}`}
            </span>
            {!phone.shut_out && (
              <ShutOut
                device={phone.device}
                person={person}
                which={`${phone.name ?? "A phone"} of ${shortNameOf(person)}, last seen ${moment(phone.last_seen_ms)}`}
                asking={shutting}
                onDone={fetch}
              />
            )}
          </li>
        ))}
      </ul>
    </div>
  );
}

export default function Person({ person }: { person: string }): JSX.Element {
  const [code, setCode] = useState<Code | null>(null);
  const post = usePost();
  const member = rows("member").get(person);
  const lead = iLead();
  if (!member) {
    return (
      <Screen title="Crew" place="crew">
        <EmptyState sentence="Nobody by that name is on this crew." />
      </Screen>
    );
  }
  const since = inSince(member);
  const first = shortNameOf(person);
  if (code) {
    return (
      <CodeToScan
        title={`A new phone of ${first}'s`}
        code={code}
        again="That is done"
        onAgain={() => setCode(null)}
      />
    );
  }
  return (
    <Screen title={fullNameOf(person)} place="crew">
      <div class="stack">
        <p>
          {member.left
            ? "Off the crew."
            : [roleWords(member), skillWords(member)].filter(Boolean).join(" · ")}
        </p>
        <NoticeLine>
          {since ? `In since ${moment(since)}.` : "Not in today."}{" "}
          {people.value.get(person)?.pin_set ? "PIN set." : "No PIN yet."}
        </NoticeLine>
        {member.role !== "viewer" && !member.left && (
          <Button
            label={`Type for ${first}`}
            onPress={() => {
              typingFor.value = person;
              go("/");
            }}
          />
        )}
        {lead && !member.left && member.id !== me.value?.person && (
          <Button
            label={`A code for a new phone of ${first}'s`}
            onPress={async () =>
              setCode(
                await post.send<Code>(
                  "POST",
                  `/api/builds/${build.value?.id ?? ""}/people/${person}/devices`,
                  {},
                ),
              )
            }
          />
        )}
        {post.problem && <RefusalPanel sentence={post.problem.detail} remedy={post.problem.way_on} />}
        {lead && <LinkButton label="Hours they can come" href={`/crew/${person}/hours`} />}
        {lead && !member.left && <LeadPart key={person} person={person} />}
        {lead && !member.left && member.id !== me.value?.person && <TakeOff key={person} person={person} />}
      </div>
    </Screen>
  );
}
