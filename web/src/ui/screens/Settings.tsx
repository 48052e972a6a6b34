/** Build settings: the plan file, its options, another build. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { head, rows } from "../../app/mirror";
import { build, iLead, me, openBuild, wake } from "../../app/session";
import type { RowKinds } from "../../wire/rows";
import { useNow } from "../askNow";
import { go } from "../go";
import { PlanFindings } from "../PlanFindings";
import {
  Button,
  Choice,
  FileField,
  LinkButton,
  MainButton,
  NoticeLine,
  RefusalPanel,
  TextField,
} from "../parts";
import { PlanOptions, usePlanFile } from "../planFile";
import { Screen } from "../Screen";
import { usePost } from "../usePost";

function LoadPlan(): JSX.Element {
  const [loaded, setLoaded] = useState(false);
  const post = usePost();
  const plan = usePlanFile(post);
  const { file, checked, faults, chosen } = plan;
  return (
    <div class="stack">
      <FileField
        label="Load a plan file"
        accept=".yaml,.yml"
        onFile={(picked) => {
          setLoaded(false);
          void plan.look(picked, rows("build").get("build")?.options ?? {});
        }}
      />
      <PlanOptions plan={plan} />
      <PlanFindings findings={checked?.findings ?? []} file={file?.name ?? "the file"} />
      {post.problem && <RefusalPanel sentence={post.problem.detail} remedy={post.problem.way_on} />}
      {file && checked && (
        <MainButton
          label={`Load ${file.name}`}
          blocked={faults.length ? "it has faults" : post.busy ? "one moment" : undefined}
          onPress={async () => {
            const answer = await post.send("POST", `/api/builds/${build.value?.id ?? ""}/plan`, {
              seen: head.value?.number ?? 0,
              text: file.text,
              options: chosen,
            });
            if (answer !== null) {
              setLoaded(true);
              wake();
            }
          }}
        />
      )}
      {loaded && <NoticeLine>Loaded. What was done before stays; what changed waits in the plan.</NoticeLine>}
    </div>
  );
}

/** Its name, the units shown, and the clock by which hours and days are read. */
function TheBuild({ row }: { row: RowKinds["build"] }): JSX.Element {
  const asking = useNow();
  const [name, setName] = useState(row.name);
  const [units, setUnits] = useState(row.units);
  const [zone, setZone] = useState(row.time_zone ?? "UTC");
  const here = Intl.DateTimeFormat().resolvedOptions().timeZone;
  const [learner, setLearner] = useState(String(row.learner_percent ?? 100));
  const [comes, setComes] = useState(String(row.comes_percent ?? 100));
  const samePlanning =
    learner === String(row.learner_percent ?? 100) && comes === String(row.comes_percent ?? 100);
  const same =
    samePlanning && name.trim() === row.name && units === row.units && zone.trim() === row.time_zone;
  return (
    <details class="fold">
      <summary>Name, units, time zone, planning</summary>
      <div class="stack">
        <TextField label="What do you call the vehicle?" value={name} onType={setName} maxLength={80} />
        <Choice
          legend="Units shown"
          row
          chosen={units}
          onChoose={setUnits}
          options={[
            { key: "metric", word: "Metric" },
            { key: "us", word: "US" },
            { key: "both", word: "Both" },
          ]}
        />
        <TextField
          label="Time zone of the garage"
          help={`Hours and days are read by its clock. This phone is in ${here}.`}
          value={zone}
          onType={setZone}
          maxLength={60}
        />
        <Choice
          legend="With somebody who learns it, work takes"
          row
          chosen={learner}
          onChoose={setLearner}
          options={[
            { key: "100", word: "As long" },
            { key: "125", word: "A quarter more" },
            { key: "150", word: "Half more" },
            { key: "200", word: "Twice" },
          ]}
        />
        <Choice
          legend="Of ten who say they come"
          row
          chosen={comes}
          onChoose={setComes}
          options={[
            { key: "100", word: "All come" },
            { key: "90", word: "Nine" },
            { key: "80", word: "Eight" },
            { key: "70", word: "Seven" },
          ]}
        />
        <p class="t-dim">Planning counts on these two: the length of work, and the ranges of the gates.</p>
        {asking.problem && <RefusalPanel sentence={asking.problem.detail} remedy={asking.problem.way_on} />}
        <MainButton
          label="Change the build"
          blocked={same ? "nothing is changed" : asking.busy ? "one moment" : undefined}
          onPress={() =>
            void asking.ask(
              "/change",
              {
                name: name.trim(),
                units,
                time_zone: zone.trim(),
                learner_percent: Number(learner),
                comes_percent: Number(comes),
              },
              { seen: true },
            )
          }
        />
      </div>
    </details>
  );
}

/** What this build chose of the plan's options; the lead may choose again: what falls away is left out, or to be undone. */
function Options({ row, lead }: { row: RowKinds["build"]; lead: boolean }): JSX.Element {
  const asking = useNow();
  const [wished, setWished] = useState<Record<string, string>>({});
  const options = row.choices ?? [];
  const inForce = row.options ?? {};
  const word = (id: string): string => {
    const option = options.find((one) => one.id === id);
    return option?.choices.find((one) => one.id === inForce[id])?.say ?? inForce[id] ?? "";
  };
  const changed = Object.fromEntries(Object.entries(wished).filter(([id, choice]) => inForce[id] !== choice));
  return (
    <section class="stack" aria-label="Options">
      {options.map((option) => (
        <p key={option.id}>
          {option.say}: <strong>{word(option.id)}</strong>
        </p>
      ))}
      {lead && (
        <details class="fold">
          <summary>Change the options</summary>
          <div class="stack">
            <NoticeLine>
              Work that falls away is left out of the plan; what was signed of it is to be undone. What comes
              in waits in the plan.
            </NoticeLine>
            {options.map((option) => (
              <Choice
                key={option.id}
                legend={option.say}
                chosen={wished[option.id] ?? inForce[option.id]}
                onChoose={(choice) => setWished({ ...wished, [option.id]: choice })}
                options={option.choices.map((one) => ({ key: one.id, word: one.say }))}
              />
            ))}
            {asking.problem && (
              <RefusalPanel sentence={asking.problem.detail} remedy={asking.problem.way_on} />
            )}
            <MainButton
              label="Change the options"
              blocked={
                Object.keys(changed).length === 0
                  ? "nothing is changed"
                  : asking.busy
                    ? "one moment"
                    : undefined
              }
              onPress={async () => {
                if (await asking.ask("/plan/options", { options: changed }, { seen: true })) setWished({});
              }}
            />
          </div>
        </details>
      )}
    </section>
  );
}

export default function Settings(): JSX.Element {
  const row = rows("build").get("build");
  const lead = iLead();
  const others = me.value?.builds.filter((one) => one.id !== build.value?.id) ?? [];
  const stages = row?.stages?.length ?? 0;
  return (
    <Screen title="Build settings" place="settings">
      <div class="stack">
        <p>
          {row?.name}.{" "}
          {row?.plan_name ? `Plan: ${row.plan_name}, ${stages} stages.` : "No plan is loaded yet."}
        </p>
        {row?.manual && (
          <p class="t-dim">
            {row.manual.title}, revision {row.manual.revision}
          </p>
        )}
        {row && (row.choices ?? []).length > 0 && <Options row={row} lead={lead} />}
        {lead && row && <TheBuild row={row} />}
        {lead ? <LoadPlan /> : <NoticeLine>The lead loads the plan and chooses its options.</NoticeLine>}
        <h2>Builds</h2>
        {others.map((one) => (
          <Button
            key={one.id}
            label={`Open ${one.name}`}
            onPress={async () => {
              await openBuild(one);
              go("/");
            }}
          />
        ))}
        <LinkButton label="Make a build" href="/make" />
      </div>
    </Screen>
  );
}
