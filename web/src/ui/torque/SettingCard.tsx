/** First the setting: torque wrench from the tool store (unfit ones below, with why), set value in its own unit. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { Choice, Figure, MainButton, NoticeLine, RefusalPanel, TextField } from "../parts";
import { readNumber } from "../words/numbers";
import { reasonWords } from "../words/reason";
import { unitHeard, unitWord } from "../words/units";
import { passOf, type Setting, setValue, type TorqueView } from "./seen";

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

export function SettingCard(props: {
  view: TorqueView;
  before: Setting | null;
  onSet: (setting: Setting) => void;
}): JSX.Element {
  const { view, before } = props;
  const fit = view.wrenches.filter((one) => one.fit);
  const unfit = view.wrenches.filter((one) => !one.fit);
  const [wrench, setWrench] = useState<string | undefined>(before?.wrench ?? fit[0]?.wrench);
  const [own, setOwn] = useState("");
  const [faces, setFaces] = useState<string | undefined>(before?.faces ?? undefined);
  const [threads, setThreads] = useState<string | undefined>(before?.threads ?? undefined);
  const chosen = view.wrenches.find((one) => one.wrench === wrench);
  const last = view.passes.length;
  const pass = passOf(chosen, last);
  const wrong =
    own && (!readNumber(own) || own.includes("/")) ? "Type a number, such as 92 or 92,5." : undefined;
  const lacks = !wrench
    ? "choose a torque wrench"
    : view.as_found_wanted && (!faces || !threads)
      ? "say how faces and threads were found"
      : wrong
        ? "mend the set value"
        : undefined;
  return (
    <div class="stack">
      <Figure
        value={view.passes.at(-1)?.target ?? view.spec.target.torque}
        unit={unitWord(view.spec.target.unit)}
        unitHeard={unitHeard(view.spec.target.unit)}
        limits={`${view.passes.at(-1)?.low} to ${view.passes.at(-1)?.high}${view.tolerance_is_default ? ", the build's default tolerance" : ""}`}
        holdsFor={`${view.spec.thread}${view.spec.property_class ? `, ${view.spec.property_class}` : ""}, ${view.spec.lubrication}`}
      />
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
          second: `${one.lowest} to ${one.highest} ${unitWord(one.unit)}`,
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
              second: `${(one.why ?? []).map(reasonWords).join(" ")} ${
                one.counts_as_deviation
                  ? "Its readings count as done differently."
                  : "Its readings won't count here."
              }`,
            }))}
          />
        </details>
      )}
      {chosen && pass && (
        <div class="card">
          <p class="t-strong">
            Set {setValue(chosen, last, last, own.trim() || null)} {unitWord(chosen.unit)}
          </p>
          <p class="t-dim">
            {pass.low} to {pass.high} {unitWord(chosen.unit)} is accepted.{" "}
            {pass.nearest_mark
              ? `Nearest mark: ${pass.nearest_mark}${pass.mark_inside ? "" : ", which is outside the limits: take a finer scale"}.`
              : "The target is off this scale."}
          </p>
          {last > 1 && (
            <p class="t-dim">
              Before that:{" "}
              {view.passes
                .slice(0, -1)
                .map(
                  (one) =>
                    `pass ${one.pass_no} at ${setValue(chosen, one.pass_no, last, null)} ${unitWord(chosen.unit)}`,
                )
                .join(", ")}
              .
            </p>
          )}
          <TextField label="I set another value" value={own} onType={setOwn} wrong={wrong} />
        </div>
      )}
      {view.as_found_wanted && (
        <>
          <Choice legend="Faces, as found" row chosen={faces} onChoose={setFaces} options={FACES} />
          <Choice legend="Threads, as found" chosen={threads} onChoose={setThreads} options={THREADS} />
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
          wrench &&
          props.onSet({
            wrench,
            own: own.trim().replace(",", ".") || null,
            faces: faces ?? null,
            threads: threads ?? null,
          })
        }
      />
    </div>
  );
}
