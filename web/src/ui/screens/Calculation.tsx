/** One calculation: a form made from the catalogue, the answer, formula, source, limits, and a link with the inputs. */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Problem } from "../../wire/core";
import type { components } from "../../wire/schema";
import { Answer, Picture } from "../bench/Answer";
import { Asked, type Inputs } from "../bench/Asked";
import { Fetching } from "../Fetching";
import { LinkButton, MainButton, RefusalPanel } from "../parts";
import { Screen } from "../Screen";
import { usePost } from "../usePost";

type One = components["schemas"]["Calculation"];
type Worked = components["schemas"]["Worked"];

function fromAddress(): Inputs {
  const kept = new URLSearchParams(location.search).get("with");
  try {
    return kept ? (JSON.parse(kept) as Inputs) : {};
  } catch {
    return {}; // a link that was cut off in a message: the form starts empty
  }
}

/** An input named by the refusal: the sentence stands at its field. */
function wrongAt(problem: Problem | null, name: string): string | undefined {
  const field = String(problem?.params?.field ?? problem?.field ?? "");
  if (field !== name && !field.startsWith(`${name}[`)) return undefined;
  return `${problem?.detail ?? ""} ${problem?.way_on ?? ""}`.trim();
}

export default function Calculation({ name }: { name: string }): JSX.Element {
  const [one, setOne] = useState<One | null>(null);
  const [inputs, setInputs] = useState<Inputs>(fromAddress);
  const [worked, setWorked] = useState<Worked | null>(null);
  const asking = usePost();
  const working = usePost();
  useEffect(() => {
    void asking.send<One>("GET", `/api/bench/${name}`).then(setOne);
  }, [name]);
  if (!one) {
    return (
      <Screen title="Bench" place="bench">
        {asking.problem ? (
          <RefusalPanel sentence={asking.problem.detail} remedy={asking.problem.way_on} />
        ) : (
          <Fetching sentence="Fetching the calculation" />
        )}
      </Screen>
    );
  }
  const missing = one.inputs.find((asked) => {
    const given = inputs[asked.name];
    if (asked.optional || asked.kind === "yes_no") return false;
    return given === undefined || (typeof given === "object" && !Array.isArray(given) && given.value === "");
  });
  const given = Object.fromEntries(
    Object.entries(inputs).filter(
      ([, value]) =>
        value !== undefined && !(typeof value === "object" && !Array.isArray(value) && value.value === ""),
    ),
  );
  const named = one.inputs.some((asked) => wrongAt(working.problem, asked.name));
  return (
    <Screen title={one.title.replaceAll("`", "")} place="bench">
      <div class="stack">
        {one.inputs.map((asked) => (
          <Asked
            key={asked.name}
            asked={asked}
            given={inputs[asked.name]}
            wrong={wrongAt(working.problem, asked.name)}
            onGive={(value) => {
              const next = { ...inputs };
              if (value === undefined) delete next[asked.name];
              else next[asked.name] = value;
              setInputs(next);
              setWorked(null);
            }}
          />
        ))}
        {working.problem && !named && (
          <RefusalPanel sentence={working.problem.detail} remedy={working.problem.way_on} />
        )}
        <MainButton
          label="Work it out"
          blocked={
            missing
              ? `${missing.name.replaceAll("_", " ")} is missing`
              : working.busy
                ? "one moment"
                : undefined
          }
          onPress={async () => {
            const answer = await working.send<Worked>("POST", `/api/bench/${name}`, { inputs: given });
            setWorked(answer);
            if (answer)
              history.replaceState(
                null,
                "",
                `/bench/${name}?with=${encodeURIComponent(JSON.stringify(given))}`,
              );
          }}
        />
        {worked && (
          <section class="stack card" aria-label="Answer" aria-live="polite">
            <Picture name={name} result={worked.result} />
            <div class="t-strong">
              <Answer result={worked.result} />
            </div>
            <p class="t-dim">This address holds the inputs: send it on as it is.</p>
          </section>
        )}
        <p>
          <strong>Formula:</strong> {one.formula}
        </p>
        <p>
          <strong>Source:</strong> {one.source}
        </p>
        <p class="t-dim">
          It computes and shows its rule. The kit's manual, local codes and licensed practice decide.
        </p>
        <LinkButton label="All of the Bench" href="/bench" kind="quiet" size={48} />
      </div>
    </Screen>
  );
}
