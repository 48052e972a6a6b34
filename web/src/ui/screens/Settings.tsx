/** Build settings: the plan file, its options, another build. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { head, rows } from "../../app/mirror";
import { build, iLead, me, openBuild, wake } from "../../app/session";
import { go } from "../go";
import { Button, Choice, FileField, LinkButton, MainButton, NoticeLine, RefusalPanel } from "../parts";
import { Screen } from "../Screen";
import { usePost } from "../usePost";

interface Finding {
  level: "error" | "doubt";
  says: string;
  remedy: string;
  line?: number | null;
}
interface Checked {
  findings: Finding[];
  name: string | null;
  options: { id: string; say: string; default: string; choices: { id: string; say: string }[] }[];
}

function Findings({ findings }: { findings: Finding[] }): JSX.Element {
  return (
    <ol class="stack">
      {findings.map((one) => (
        <li key={`${one.line}${one.says}`}>
          <strong>
            {one.line ? `Line ${one.line}: ` : ""}
            {one.says}
          </strong>{" "}
          {one.remedy}
        </li>
      ))}
    </ol>
  );
}

function LoadPlan(): JSX.Element {
  const [file, setFile] = useState<{ name: string; text: string } | null>(null);
  const [checked, setChecked] = useState<Checked | null>(null);
  const [options, setOptions] = useState<Record<string, string>>({});
  const [loaded, setLoaded] = useState(false);
  const post = usePost();

  async function check(text: string, chosen: Record<string, string>): Promise<void> {
    const answer = await post.send<Checked>("POST", "/api/plan/check", { text, options: chosen });
    if (!answer) return;
    setChecked(answer);
    setOptions({ ...Object.fromEntries(answer.options.map((one) => [one.id, one.default])), ...chosen });
  }
  async function pick(picked: File): Promise<void> {
    const text = await picked.text();
    setFile({ name: picked.name, text });
    setLoaded(false);
    await check(text, rows("build").get("build")?.options ?? {});
  }
  const errors = checked?.findings.filter((one) => one.level === "error") ?? [];
  const doubts = checked?.findings.filter((one) => one.level === "doubt") ?? [];
  return (
    <div class="stack">
      <FileField label="Load a plan file" accept=".yaml,.yml" onFile={(file) => void pick(file)} />
      {checked?.options.map((option) => (
        <Choice
          key={option.id}
          legend={option.say}
          chosen={options[option.id]}
          options={option.choices.map((choice) => ({ key: choice.id, word: choice.say }))}
          onChoose={(choice) => {
            const chosen = { ...options, [option.id]: choice };
            setOptions(chosen);
            if (file) void check(file.text, chosen);
          }}
        />
      ))}
      {errors.length > 0 && (
        <>
          <RefusalPanel
            sentence={`${errors.length === 1 ? "One fault" : `${errors.length} faults`} in ${file?.name ?? "the file"}.`}
            remedy="Nothing was loaded. Mend the file and load it again. Checked for the options chosen above."
          />
          <Findings findings={errors} />
        </>
      )}
      {doubts.length > 0 && (
        <>
          <h3>Doubtful, worth a look</h3>
          <Findings findings={doubts} />
        </>
      )}
      {post.problem && <RefusalPanel sentence={post.problem.detail} remedy={post.problem.way_on} />}
      {file && checked && (
        <MainButton
          label={`Load ${file.name}`}
          blocked={errors.length ? "it has faults" : post.busy ? "one moment" : undefined}
          onPress={async () => {
            const answer = await post.send("POST", `/api/builds/${build.value?.id ?? ""}/plan`, {
              seen: head.value?.number ?? 0,
              text: file.text,
              options,
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
        {Object.entries(row?.options ?? {}).map(([option, choice]) => (
          <p key={option}>
            {option.replaceAll("_", " ")}: <strong>{choice.replaceAll("_", " ")}</strong>
          </p>
        ))}
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
