/** An empty service: make a build, one question a screen, then invite others. Also *another build* for a member. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { me, start } from "../../app/session";
import { go } from "../go";
import { NewPin, NOTHING_TYPED, newPinTrouble } from "../NewPin";
import { OneQuestion } from "../OneQuestion";
import { PlainNotice } from "../PlainNotice";
import { PlanFindings } from "../PlanFindings";
import { Button, Choice, FileField, TextField } from "../parts";
import { PlanOptions, usePlanFile } from "../planFile";
import { usePost } from "../usePost";

type Units = "metric" | "us" | "both";
export default function FirstRun(): JSX.Element {
  const [page, setPage] = useState(0);
  const [buildName, setBuildName] = useState("");
  const [units, setUnits] = useState<Units>("metric");
  const [name, setName] = useState("");
  const [typed, setTyped] = useState(NOTHING_TYPED);
  const post = usePost();
  const plan = usePlanFile(post);
  const known = me.value?.person !== null && me.value?.person !== undefined;
  const time_zone = Intl.DateTimeFormat().resolvedOptions().timeZone;

  async function make(): Promise<void> {
    const body = {
      build_name: buildName,
      units,
      time_zone,
      plan_text: plan.file?.text ?? null,
      options: plan.chosen,
    };
    const made = known
      ? await post.send("POST", "/api/builds", body)
      : await post.send("POST", "/api/first-run", { ...body, name, pin: typed.pin });
    if (made !== null) {
      await start();
      go("/crew/invite");
    }
  }

  const wrong = plan.faults;
  const pages = [
    <OneQuestion
      key="name"
      title="Make a build"
      said="What do you call the vehicle?"
      next="Go on"
      blocked={buildName.trim() ? undefined : "type its name"}
      onNext={() => setPage(1)}
    >
      <TextField label="Name of the build" value={buildName} onType={setBuildName} maxLength={60} />
      <PlainNotice />
    </OneQuestion>,
    <OneQuestion key="units" title="Units" next="Go on" onNext={() => setPage(2)} onBack={() => setPage(0)}>
      <Choice
        legend="Which units does this build show?"
        chosen={units}
        onChoose={setUnits}
        options={[
          { key: "metric", word: "Metric", second: "N·m, mm, kg" },
          { key: "us", word: "US", second: "lbf·ft, in, lb" },
          { key: "both", word: "Both", second: "metric first, US beside it" },
        ]}
      />
    </OneQuestion>,
    <OneQuestion
      key="plan"
      title="The plan"
      said="A plan file holds the tasks, bolt groups, lifts and gates. You can also start empty and load one later."
      next={plan.file ? `Go on with ${plan.file.name}` : "Start empty"}
      blocked={wrong.length ? "the plan has faults; nothing was loaded" : undefined}
      busy={post.busy}
      problem={post.problem}
      onNext={() => (known ? void make() : setPage(3))}
      onBack={() => setPage(1)}
    >
      <FileField label="Load a plan file" accept=".yaml,.yml" onFile={(file) => void plan.look(file, {})} />
      <PlanOptions plan={plan} />
      <PlanFindings findings={plan.checked?.findings ?? []} file={plan.file?.name ?? "the file"} />
      {plan.file && wrong.length > 0 && <Button label="Leave this file out" onPress={plan.leave} />}
    </OneQuestion>,
    <OneQuestion
      key="me"
      title="You are the lead"
      said="Your name, as the crew calls you."
      next="Go on"
      blocked={name.trim() ? undefined : "type your name"}
      onNext={() => setPage(4)}
      onBack={() => setPage(2)}
    >
      <TextField label="Your name" value={name} onType={setName} maxLength={60} autocomplete="name" />
    </OneQuestion>,
    <OneQuestion
      key="pin"
      title="Your PIN"
      said="You sign with it. Nobody can read it back, not even you."
      next="Make the build"
      busy={post.busy}
      problem={post.problem}
      blocked={newPinTrouble(typed, "lead")}
      onNext={() => void make()}
      onBack={() => setPage(3)}
    >
      <NewPin label="PIN, eight digits or more, or a phrase" typed={typed} onType={setTyped} />
    </OneQuestion>,
  ];
  return pages[page] ?? <p role="alert">This page went missing.</p>;
}
