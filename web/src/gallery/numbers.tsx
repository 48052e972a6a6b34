import { useState } from "preact/hooks";
import { BoltPattern, type DrawnFastener, type FastenerState } from "../ui/drawings";
import {
  Button,
  type CheckAnswer,
  FastenerRow,
  Figure,
  Keypad,
  Layout,
  MainButton,
  PinPad,
  SlipGuard,
  StepRow,
  TopStrip,
} from "../ui/parts";
import { nothing, type Page } from "./page";

const WHERE = ["top", "upper right", "lower right", "bottom", "lower left", "upper left"];

/** Six bolts of the clutch on a ring, number 1 on top, clockwise. */
function clutch(states: readonly FastenerState[]): DrawnFastener[] {
  return states.map((state, i) => {
    const angle = (Math.PI / 3) * i;
    return {
      number: i + 1,
      x: 100 * Math.sin(angle),
      y: 100 * Math.cos(angle),
      where: WHERE[i] ?? "",
      state,
      reading: state === "done" ? "clicked at 24 N·m" : undefined,
    };
  });
}

function pattern(states: readonly FastenerState[]) {
  return (
    <BoltPattern
      group="Clutch cover to flywheel"
      seenFrom="the gearbox"
      otherSide="the engine"
      up="top"
      pass="Pass 2 of 2"
      fasteners={clutch(states)}
      onPress={nothing}
    />
  );
}

function Torque() {
  return (
    <Layout
      strip={<TopStrip build="T502 · Clutch" initials="AP" name="Aled Penhaligon" />}
      work={
        <>
          <MainButton label="Clicked at 24 N·m" size={96} onPress={nothing} />
          <div class="pair">
            <Button label="Type a reading" size={64} onPress={nothing} />
            <Button label="Typed wrong" size={64} onPress={nothing} />
          </div>
        </>
      }
    >
      <h1 class="heard">Clutch cover, bolt 5</h1>
      <Figure
        value="24"
        unit="N·m"
        unitHeard="newton metres"
        limits="23 to 25"
        holdsFor="Pass 2 of 2 · dry zinc · torque wrench W1"
      />
      {pattern(["done", "done", "to_do", "done", "next", "to_do"])}
      <p class="t-strong">Bolt 5, lower left</p>
    </Layout>
  );
}

const MOUNTS: readonly DrawnFastener[] = [
  { number: 1, x: -90, y: 30, where: "front left", state: "run_in" },
  { number: 2, x: 90, y: 30, where: "front right", state: "run_in" },
  { number: 3, x: 90, y: -30, where: "rear right", state: "next" },
  { number: 4, x: -90, y: -30, where: "rear left", state: "to_do" },
];

function Patterns() {
  return (
    <div class="stack-wide">
      {pattern(["done", "kept", "outside", "crossed_out", "next", "run_in"])}
      <BoltPattern
        group="Gearbox crossmember"
        seenFrom="below"
        up="nose"
        pass="Pass 1 of 1"
        fasteners={MOUNTS}
        onPress={nothing}
      />
      <BoltPattern
        group="Bellhousing, fourteen"
        seenFrom="the gearbox"
        up="top"
        pass="Pass 1 of 3"
        fasteners={Array.from({ length: 14 }, (_, i) => ({
          number: i + 1,
          x: 100 * Math.sin((Math.PI / 7) * i),
          y: 100 * Math.cos((Math.PI / 7) * i),
          where: `${i} of 14`,
          state: i < 5 ? "done" : i === 9 ? "next" : "to_do",
        }))}
        onPress={nothing}
      />
    </div>
  );
}

function Reading() {
  const [value, setValue] = useState("92");
  return (
    <div class="stack">
      <Keypad
        label="Reading of bolt 5"
        value={value}
        onType={setValue}
        unit="N·m"
        unitHeard="newton metres"
        locale="de"
      />
      <MainButton label={`Write ${value} N·m, bolt 5`} onPress={nothing} />
    </div>
  );
}

function Inches() {
  const [value, setValue] = useState("12 7/16");
  return (
    <Keypad
      kind="inches"
      label="Cut length, piece 3"
      value={value}
      onType={setValue}
      unit="in"
      unitHeard="inches"
    />
  );
}

function Pin() {
  const [value, setValue] = useState("1234");
  return (
    <PinPad
      who="You are Desmond Achterberg, on Aled's phone"
      label="Your PIN"
      value={value}
      onType={setValue}
      wrong="Wrong PIN. Three tries left."
    />
  );
}

function Slips() {
  return (
    <div class="stack-wide">
      <SlipGuard
        how="near"
        sentence="3 over the limit."
        asRead="99 N·m"
        onWrite={nothing}
        onTypeAgain={nothing}
      />
      <SlipGuard
        how="far"
        sentence="68 is far from 92. 68 lbf·ft would be 92 N·m. Look at the torque wrench."
        asRead="68 N·m"
        onWrite={nothing}
        onTypeAgain={nothing}
        otherUnit={{ label: "It reads lbf·ft: change torque wrench", onPress: nothing }}
      />
    </div>
  );
}

function Rows() {
  const [answers, setAnswers] = useState<Record<number, CheckAnswer>>({ 1: "holds" });
  const answer = (n: number) => (a: CheckAnswer) => setAnswers({ ...answers, [n]: a });
  return (
    <div class="stack-wide">
      <ol class="rows">
        <StepRow number={1} words="Wipe the flywheel face dry" state="done" second="Aled, 10:32" />
        <StepRow number={2} words="Fit the alignment tool" state="done" stub="On this phone only" />
        <StepRow
          number={3}
          words="Tighten the cover in two passes"
          state="current"
          page="Manual p. 48, rev C"
        />
        <StepRow number={4} words="Grease the release bearing sleeve" state="to_do" />
        <StepRow number={5} words="Fit the oil cooler spacer" state="left_out" second="Option: oil cooler" />
        <StepRow number={6} words="Measure finger height" state="to_do" value="34.0 to 36.0 mm" />
      </ol>
      <ul class="rows">
        <FastenerRow
          number={1}
          where="top"
          reading="24 N·m, clicked"
          answer={answers[1]}
          onAnswer={answer(1)}
        />
        <FastenerRow
          number={3}
          where="lower right"
          reading="24.5 N·m"
          crossedOut="31 N·m, typed wrong"
          warns={["Bolt 3 was read again at 11:02. Look at it again."]}
          answer={answers[3]}
          onAnswer={answer(3)}
        />
        <FastenerRow number={4} where="bottom" reading="24 N·m, clicked" answer="holds" />
      </ul>
    </div>
  );
}

export const NUMBER_PAGES: readonly Page[] = [
  { key: "torque", title: "Torque, a whole screen", Show: Torque, whole: true },
  { key: "patterns", title: "Bolt patterns", Show: Patterns },
  { key: "keypad", title: "Keypad", Show: Reading },
  { key: "inches", title: "Inches", Show: Inches },
  { key: "pin", title: "PIN", Show: Pin },
  { key: "slips", title: "Slip guard", Show: Slips },
  { key: "rows", title: "Steps and fasteners", Show: Rows },
];
