/** First the setting: torque wrench from the tool store (unfit ones below, with why), set value in its own unit. */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Problem } from "../../wire/core";
import { toTop } from "../go";
import { Choice, Figure, MainButton, NoticeLine, RefusalPanel, TextField } from "../parts";
import { readNumber } from "../words/numbers";
import { reasonWords, type TwoParts } from "../words/reason";
import { unitHeard, unitWord } from "../words/units";
import { Between, setupWords } from "./Between";
import { passOf, rounded, type Setting, type Setup, setValue, type TorqueView, wholeTorque } from "./seen";
import { knownUnfit } from "./setting";
import { claimWords, markWords, offScaleWords, wrenchWords } from "./wrench";

const FACES = [
  { key: "clean", word: "Clean" },
  { key: "dirty", word: "Dirty" },
  { key: "damaged", word: "Damaged" },
] as const;
const THREADS = [
  { key: "clean_dry", word: "Clean and dry" },
  { key: "oiled", word: "Oiled" },
  { key: "locker", word: "Thread locker" },
  { key: "anti_seize", word: "Anti-seize" },
  { key: "damaged", word: "Damaged" },
] as const;

function whyUnfit(one: TorqueView["wrenches"][number]): string {
  const so = one.counts_as_deviation
    ? "Its readings count as done differently."
    : "Its readings won't count here.";
  return [...(one.why ?? []).map(reasonWords), so].join(" ");
}

export function SettingCard(props: {
  view: TorqueView;
  /** The pass that is on. */
  pass: number;
  before: Setting | null;
  /** What became of the torque wrench of `before`: another one must be chosen, or this one knowingly. */
  trouble: TwoParts | null;
  setup: Setup | null;
  /** The setup is asked for and the view does not hold it yet; or why it can't be. */
  waits: boolean;
  problem: Problem | null;
  onSetup: (setup: Setup | null) => void;
  onSet: (setting: Setting) => void;
}): JSX.Element {
  const { view, before, setup, trouble } = props;
  useEffect(toTop, []);
  const fit = view.wrenches.filter((one) => one.fit);
  const unfit = view.wrenches.filter((one) => !one.fit);
  const [wrench, setWrench] = useState<string | undefined>(
    trouble ? undefined : (before?.wrench ?? fit[0]?.wrench),
  );
  const [own, setOwn] = useState(trouble ? "" : (before?.own ?? ""));
  const [faces, setFaces] = useState<string | undefined>(before?.faces ?? undefined);
  const [threads, setThreads] = useState<string | undefined>(before?.threads ?? undefined);
  const chosen = view.wrenches.find((one) => one.wrench === wrench);
  const asks = wholeTorque(view);
  const whole = asks?.pass_no ?? view.passes.length;
  const pass = passOf(chosen, whole);
  const early = (chosen?.passes ?? []).filter((one) => one.pass_no < whole && one.pass_no >= props.pass);
  const off = early.flatMap((one) => (chosen && offScaleWords(one, chosen)) || []);
  const turns = view.passes.flatMap(({ turn }) => (turn ? [`${turn.angle_deg}°`] : []));
  const wrong =
    own && (!readNumber(own) || own.includes("/")) ? "Type a number, such as 92 or 92,5." : undefined;
  const lacks = !chosen
    ? "choose a torque wrench"
    : view.as_found_wanted && (!faces || !threads)
      ? "say how faces and threads were found"
      : wrong
        ? "mend the set value"
        : props.waits
          ? "the setting is not worked out yet"
          : setup?.drag.trim() && setup.drag_unit !== chosen?.unit
            ? "the prevailing torque was typed in another unit"
            : !pass
              ? "no figure is known for it here"
              : undefined;
  return (
    <div class="stack">
      {trouble && <RefusalPanel {...trouble} />}
      <Figure
        value={asks?.torque?.target ?? view.spec.target.torque}
        unit={unitWord(view.spec.target.unit)}
        unitHeard={unitHeard(view.spec.target.unit)}
        limits={`${asks?.torque?.low} to ${asks?.torque?.high}${view.tolerance_is_default ? ", the build's default tolerance" : ""}`}
        holdsFor={`${view.spec.thread}${view.spec.property_class ? `, ${view.spec.property_class}` : ""}, ${view.spec.lubrication}`}
      />
      {turns.length > 0 && (
        <p class="t-strong">
          Then turn every bolt {turns.join(", then ")} further
          {turns.length > 1 ? ", each over all bolts" : ""}.
        </p>
      )}
      <p class="t-dim">
        {view.spec.source}
        {view.spec.page ? `, ${view.spec.page}` : ""}
      </p>
      {view.advice
        .filter((one) => one.threads === null)
        .map((one) =>
          one.level === "ok" ? (
            <p key={one.says} class="t-dim">
              {one.says}
            </p>
          ) : (
            <NoticeLine key={one.says}>{one.says}</NoticeLine>
          ),
        )}
      {view.wrenches.length === 0 && (
        <NoticeLine>No torque wrench is in the tool store. Enter one under Bags and tools.</NoticeLine>
      )}
      <Choice
        legend="Torque wrench"
        chosen={wrench}
        onChoose={setWrench}
        options={fit.map((one) => ({
          key: one.wrench,
          word: `${one.wrench} · ${one.name}`,
          second: wrenchWords(one),
        }))}
      />
      {unfit.length > 0 && (
        <details open={fit.length === 0}>
          <summary>Unfit here: {unfit.length}</summary>
          <Choice
            legend="Unfit here, with why"
            chosen={wrench}
            onChoose={setWrench}
            options={unfit.map((one) => ({
              key: one.wrench,
              word: `${one.wrench} · ${one.name}`,
              second: whyUnfit(one),
            }))}
          />
        </details>
      )}
      {chosen && !chosen.fit && !trouble && (
        <RefusalPanel sentence={`${chosen.wrench} is unfit here.`} remedy={whyUnfit(chosen)} />
      )}
      {chosen && pass && (
        <div class="card">
          {setup && !props.waits && <p class="t-dim">{setupWords(setup)}</p>}
          <p class="t-strong">
            Set {setValue(chosen, whole, whole, own.trim() || null)} {unitWord(chosen.unit)}
          </p>
          <p class="t-dim">
            {rounded(pass).low} to {rounded(pass).high} {unitWord(chosen.unit)} is accepted.{" "}
            {markWords(pass, chosen.unit)}
          </p>
          {pass.claimed_from && <NoticeLine>{claimWords(pass.claimed_from, chosen.unit)}</NoticeLine>}
          {whole > 1 && (
            <p class="t-dim">
              Before that:{" "}
              {view.passes
                .filter((one) => one.pass_no < whole)
                .map(
                  (one) =>
                    `pass ${one.pass_no} at ${setValue(chosen, one.pass_no, whole, null)} ${unitWord(chosen.unit)}`,
                )
                .join(", ")}
              .
            </p>
          )}
          {off.map((words) => (
            <NoticeLine key={words}>{words}</NoticeLine>
          ))}
          <TextField label="I set another value" value={own} onType={setOwn} wrong={wrong} />
        </div>
      )}
      {chosen && (
        <Between
          key={chosen.unit}
          before={setup}
          unit={chosen.unit}
          waits={props.waits}
          problem={props.problem}
          onSetup={props.onSetup}
        />
      )}
      {view.as_found_wanted && (
        <>
          <Choice legend="Faces, as found" row chosen={faces} onChoose={setFaces} options={FACES} />
          <Choice legend="Threads, as found" chosen={threads} onChoose={setThreads} options={THREADS} />
          {(faces === "damaged" || threads === "damaged") && (
            <RefusalPanel
              sentence="Damaged: ask the lead before you tighten."
              remedy="With the first reading it stands among the snags."
            />
          )}
          {view.advice
            .filter((one) => one.threads === threads)
            .map((one) => (
              <RefusalPanel
                key={one.says}
                sentence="The thread is not as the figure assumed."
                remedy={one.says}
              />
            ))}
        </>
      )}
      <MainButton
        label="Set, begin"
        blocked={lacks}
        onPress={() =>
          chosen &&
          props.onSet({
            wrench: chosen.wrench,
            ...knownUnfit(view, props.pass, chosen),
            own: own.trim().replace(",", ".") || null,
            faces: faces ?? null,
            threads: threads ?? null,
            setup,
          })
        }
      />
    </div>
  );
}
