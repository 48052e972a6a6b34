/** Invite someone: role first, then a QR as wide as the screen. Works once, for a limited time. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { build, iLead, iLeadToday } from "../../app/session";
import { newId } from "../../local/ids";
import { type Code, CodeToScan } from "../CodeToScan";
import { Choice, EmptyState, MainButton, NoticeLine, RefusalPanel, Tick } from "../parts";
import { Screen } from "../Screen";
import { usePost } from "../usePost";

type Role = "builder" | "helper" | "viewer" | "lead";

export default function Invite(): JSX.Element {
  const lead = iLead();
  const [role, setRole] = useState<Role>("helper");
  const [guest, setGuest] = useState(!lead);
  const [countersign, setCountersign] = useState(false);
  const [minor, setMinor] = useState<"adult" | "no" | "watch" | "with_adult">("adult");
  const [skills, setSkills] = useState<string[]>([]);
  const [made, setMade] = useState<Code | null>(null);
  const post = usePost();
  const known = rows("build").get("build")?.skills ?? [];

  async function make(): Promise<void> {
    const answer = await post.send<Code>("POST", `/api/builds/${build.value?.id ?? ""}/invites`, {
      body: {
        invite: newId(),
        role,
        skills,
        minor: minor === "adult" ? null : minor,
        may_countersign: countersign && minor === "adult",
        guest_for_the_day: guest || !lead,
        valid_minutes: 60,
      },
    });
    if (answer) setMade(answer);
  }

  if (made) {
    return (
      <CodeToScan
        title="Let them scan this"
        code={made}
        again="Make a new one"
        onAgain={() => setMade(null)}
      />
    );
  }
  if (!iLeadToday()) {
    return (
      <Screen title="Invite someone" place="crew">
        <EmptyState sentence="The lead invites people, or the deputy of the day." />
      </Screen>
    );
  }
  return (
    <Screen title="Invite someone" place="crew">
      <div class="stack">
        <Choice<Role>
          legend="Role"
          chosen={role}
          onChoose={setRole}
          options={[
            { key: "helper", word: "Helper", second: "takes tasks, signs for their own work" },
            ...(lead
              ? [
                  {
                    key: "builder" as const,
                    word: "Builder",
                    second: "leads skilled tasks, calls the words in a lift, checks torque wrenches",
                  },
                ]
              : []),
            { key: "viewer", word: "Viewer", second: "looks, changes nothing; can stop a lift" },
            ...(lead ? [{ key: "lead" as const, word: "Lead", second: "plan, people, gates" }] : []),
          ]}
        />
        <Choice
          legend="Age"
          chosen={minor}
          onChoose={setMinor}
          options={[
            { key: "adult", word: "18 or over" },
            { key: "with_adult", word: "Under 18: works with an adult named" },
            { key: "watch", word: "Under 18: watches only" },
          ]}
        />
        {lead && minor === "adult" && (
          <Tick
            word="May countersign"
            second="is known to judge a tightened bolt"
            ticked={countersign}
            onTick={setCountersign}
          />
        )}
        {lead ? (
          <Tick word="Guest for today only" ticked={guest} onTick={setGuest} />
        ) : (
          <NoticeLine>They are a guest for today, and are out again by themselves tomorrow.</NoticeLine>
        )}
        {lead && known.length > 0 && (
          <fieldset class="choices">
            <legend class="field-label">Skills</legend>
            {known.map((skill) => (
              <Tick
                key={skill.id}
                word={skill.say}
                ticked={skills.includes(skill.id)}
                onTick={(on) =>
                  setSkills(on ? [...skills, skill.id] : skills.filter((one) => one !== skill.id))
                }
              />
            ))}
          </fieldset>
        )}
        {post.problem && <RefusalPanel sentence={post.problem.detail} remedy={post.problem.way_on} />}
        <MainButton
          label="Make the invite"
          blocked={post.busy ? "one moment" : undefined}
          onPress={() => void make()}
        />
        <NoticeLine>Whoever scans it first joins. It is used up then.</NoticeLine>
      </div>
    </Screen>
  );
}
