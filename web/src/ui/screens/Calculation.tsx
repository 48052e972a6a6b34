/** One calculation: a form made from the catalogue, the answer with its picture, formula, source, limits, a link to share. */

import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { components } from "../../wire/schema";
import { Answer } from "../bench/Answer";
import { AnswerUnits, choices } from "../bench/AnswerUnits";
import { Asked } from "../bench/Asked";
import { rounding } from "../bench/figures";
import { fieldOf, fieldsOf, filled, type Inputs, missing, sentenceOf } from "../bench/inputs";
import { inputsIn, linkTo, wantedIn } from "../bench/link";
import { Picture } from "../bench/Picture";
import { ShareLink } from "../bench/ShareLink";
import { Fetching } from "../Fetching";
import { bySignalWord, LinkButton, MainButton, RefusalPanel, SignalStrip } from "../parts";
import { Screen } from "../Screen";
import { usePost } from "../usePost";
import { hazardWords } from "../words/hazards";

type One = components["schemas"]["Calculation"];
type Worked = components["schemas"]["Worked"];

export default function Calculation({ name }: { name: string }): JSX.Element {
  const [one, setOne] = useState<One | null>(null);
  const [inputs, setInputs] = useState<Inputs>({});
  const [wanted, setWanted] = useState<readonly string[]>([]);
  const [worked, setWorked] = useState<{ answer: Worked; link: string } | null>(null);
  const asking = usePost();
  const working = usePost();
  const form = useRef<HTMLDivElement>(null);
  const shown = useRef<HTMLHeadingElement>(null);

  const workOut = async (calculation: One, given: Inputs, answer_in: readonly string[]) => {
    const sent = filled(calculation.inputs, given);
    const answer = await working.send<Worked>("POST", `/api/bench/${name}`, { inputs: sent, answer_in });
    if (!answer) return setWorked(null);
    const link = linkTo(location.origin, name, sent, answer_in);
    setWorked({ answer, link });
    history.replaceState(null, "", link);
  };
  useEffect(() => {
    void asking.send<One>("GET", `/api/bench/${name}`).then((calculation) => {
      setOne(calculation);
      if (!calculation) return;
      const sentOn = inputsIn(location.search, calculation.inputs);
      const units = choices(calculation.answer).flatMap((one) => one.units.map((unit) => unit.id));
      const sentIn = wantedIn(location.search, units);
      setInputs(sentOn);
      setWanted(sentIn);
      if (Object.keys(sentOn).length > 0 && !missing(calculation.inputs, sentOn))
        void workOut(calculation, sentOn, sentIn);
    });
  }, [name]);
  useEffect(() => {
    if (worked) shown.current?.focus();
  }, [worked]);
  useEffect(() => {
    if (!working.problem) return;
    const wrong = form.current?.querySelector<HTMLElement>("[aria-invalid=true], .field-wrong input");
    (wrong ?? form.current?.querySelector<HTMLElement>(".field-wrong"))?.focus();
  }, [working.problem]);

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
  const { problem } = working;
  const field = fieldOf(problem);
  const atField = field !== undefined && fieldsOf(one.inputs, inputs).includes(field);
  const open = missing(one.inputs, inputs);
  const title = one.title.replaceAll("`", "");
  return (
    <Screen title={title} place="bench">
      <div class="stack" ref={form}>
        {one.hazards.length > 0 && (
          <section class="stack" aria-label="What can hurt in this work">
            <p class="t-dim">What can hurt in this work:</p>
            {bySignalWord(one.hazards.map(hazardWords)).map((caution) => (
              <SignalStrip key={caution.short} {...caution} />
            ))}
          </section>
        )}
        {one.inputs.map((asked) => (
          <Asked
            key={asked.name}
            asked={asked}
            given={inputs[asked.name]}
            wrong={(place) => (problem && field === place ? sentenceOf(problem) : undefined)}
            onGive={(value) => {
              setInputs({ ...inputs, [asked.name]: value });
              setWorked(null);
              working.clear();
            }}
          />
        ))}
        {problem && !atField && <RefusalPanel sentence={problem.detail} remedy={problem.way_on} />}
        <MainButton
          label="Work it out"
          blocked={open ? `${open} is missing` : working.busy ? "one moment" : undefined}
          onPress={() => void workOut(one, inputs, wanted)}
        />
        {worked && (
          <section class="stack" aria-labelledby="bench-answer">
            <h2 id="bench-answer" ref={shown} tabIndex={-1}>
              Answer
            </h2>
            {one.picture && <Picture name={one.picture} worked={worked.answer} />}
            <AnswerUnits
              told={one.answer}
              wanted={wanted}
              onWant={(units) => {
                setWanted(units);
                void workOut(one, inputs, units);
              }}
            />
            <Answer result={worked.answer.result} told={one.answer} rounding={rounding(one, inputs)} />
            {one.figures !== null && (
              <p class="t-dim">
                Written with {one.figures} figures, one more where it begins with a 1: {one.figures_why}.
              </p>
            )}
            <ShareLink link={worked.link} title={title} />
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
