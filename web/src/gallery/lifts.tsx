import { useState } from "preact/hooks";
import { LiftFromAbove } from "../ui/drawings";
import { Button, Layout, MainButton, RollRow, StopBar, StopScreen, TopStrip } from "../ui/parts";
import { nothing, type Page } from "./page";

const SHELL_MM: readonly (readonly [number, number])[] = [
  [0, 250],
  [0, 1390],
  [400, 1640],
  [3100, 1640],
  [3560, 1400],
  [3560, 240],
  [3100, 0],
  [400, 0],
];

function Drawn() {
  return (
    <div class="stack-wide">
      <LiftFromAbove
        load="Body shell, 84 kg"
        outline_mm={SHELL_MM}
        supports={[
          {
            id: "fl",
            say: "Front left",
            kind: "lifter",
            x_mm: 100,
            y_mm: 150,
            nominal_kg: 16,
            worst_kg: 17,
            initials: "AP",
            mine: true,
          },
          {
            id: "fr",
            say: "Front right",
            kind: "lifter",
            x_mm: 100,
            y_mm: 1490,
            nominal_kg: 16,
            worst_kg: 17,
            initials: "BT",
          },
          {
            id: "hook",
            say: "Strap behind the middle",
            kind: "crane",
            x_mm: 2500,
            y_mm: 820,
            nominal_kg: 52,
            rated_kg: 500,
          },
        ]}
        cg={{ x_mm: 1950, y_mm: 820, plus_minus_mm: 20 }}
        caller={{ initials: "IO" }}
        lookout={{ initials: "SV" }}
        path="4 m, one step"
      />
      <LiftFromAbove
        load="Body shell by hand"
        outline_mm={SHELL_MM}
        supports={[
          { id: "f", say: "Front", kind: "lifter", x_mm: 0, y_mm: 820, nominal_kg: 38, worst_kg: 40 },
          {
            id: "rl",
            say: "Rear left",
            kind: "lifter",
            x_mm: 3400,
            y_mm: 150,
            nominal_kg: 23,
            worst_kg: 25,
            initials: "LF",
          },
          {
            id: "rr",
            say: "Rear right",
            kind: "lifter",
            x_mm: 3400,
            y_mm: 1490,
            nominal_kg: 23,
            worst_kg: 25,
            initials: "DA",
          },
        ]}
        caller={{ initials: "BT" }}
        guides={[{ initials: "PR" }]}
      />
    </div>
  );
}

function RollCall() {
  const [inPlace, setInPlace] = useState<Record<string, boolean>>({ fl: true });
  const press = (key: string) => () => setInPlace({ ...inPlace, [key]: !inPlace[key] });
  return (
    <Layout
      strip={<TopStrip build="Lift: body shell" initials="BT" name="Bram Tetteh" />}
      work={
        <>
          <MainButton label="Lift" size={96} blocked="Desmond is not on" onPress={nothing} />
          <div class="pair">
            <Button label="Not ready" size={64} onPress={nothing} />
          </div>
        </>
      }
    >
      <h1>Roll call</h1>
      <p class="t-arm">“Aled, front left. Answer when you hold it.”</p>
      <div class="stack">
        <RollRow place="Front left" name="Aled" inPlace={inPlace.fl === true} onPress={press("fl")} />
        <RollRow place="Front right" name="Desmond" inPlace={inPlace.fr === true} onPress={press("fr")} />
        <RollRow place="Crane" name="Sofia" inPlace={false} blocked="not ready yet" onPress={nothing} />
      </div>
    </Layout>
  );
}

function Lifting({ atOnce = false }: { atOnce?: boolean }) {
  const [stopped, setStopped] = useState(atOnce);
  return (
    <>
      <Layout
        strip={<TopStrip build="Lift: body shell" initials="AP" name="Aled Penhaligon" />}
        work={<StopBar onStop={() => setStopped(true)} />}
      >
        <h1>Lifting</h1>
        <p class="t-arm">Front left, 16 kg</p>
        <p class="t-arm">Next word: forward</p>
      </Layout>
      <StopScreen
        open={stopped}
        sentence="Kofi stopped the lift at 14:06:31."
        next="Hold still. Listen to Bram."
        unsent="Not sent. Shout STOP."
      >
        <Button label="Lower it" size={96} wide onPress={() => setStopped(false)} />
        <Button label="Go on: call the roll again" size={96} wide onPress={() => setStopped(false)} />
      </StopScreen>
    </>
  );
}

export const LIFT_PAGES: readonly Page[] = [
  { key: "lift", title: "Lift from above", Show: Drawn },
  { key: "roll", title: "Roll call, a whole screen", Show: RollCall, whole: true },
  { key: "lifting", title: "Lifting and STOP", Show: () => <Lifting />, whole: true },
  { key: "stop", title: "STOP", Show: () => <Lifting atOnce />, whole: true },
];
