/** The readings of a group, oldest first; crossed-out ones stay readable. *Typed wrong* corrects one (R17). */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { dispatch } from "../../app/outbox";
import { nameOf } from "../../app/session";
import { Button, Dialog, FastenerRow, Keypad, MainButton } from "../parts";
import { readNumber } from "../words/numbers";
import { reasonWords } from "../words/reason";
import { moment } from "../words/times";
import { unitHeard, unitWord } from "../words/units";
import { takenMs } from "./behind";
import { readingWords, type TorqueView } from "./seen";

type One = TorqueView["readings"][number];

function Correct({ one, onClose }: { one: One; onClose: () => void }): JSX.Element {
  const { reading } = one;
  const [value, setValue] = useState("");
  const ok = readNumber(value) && !value.includes("/");
  const turned = !reading.wrench;
  const unit = turned ? "deg" : (reading.unit ?? "");
  const typed = value.trim();
  return (
    <Dialog
      open
      title={`Typed wrong: bolt ${reading.bolt}`}
      onClose={onClose}
      foot={<Button label="Leave it as it is" wide onPress={onClose} />}
    >
      <div class="stack">
        <p>
          The old value stays, crossed out. A check that rested on it lapses. Turned again is not typed wrong:
          then take a new reading.
        </p>
        <Keypad
          label="What it really showed"
          value={value}
          onType={setValue}
          unit={unitWord(unit)}
          unitHeard={unitHeard(unit)}
        />
        <MainButton
          label={
            ok
              ? `Write ${typed}${turned ? "" : " "}${unitWord(unit)}, bolt ${reading.bolt}`
              : "Write the value"
          }
          blocked={ok ? undefined : "type it first"}
          onPress={() => {
            void dispatch("torque.correct", {
              reading: reading.id,
              ...(turned ? { angle_deg: typed } : { value: typed }),
            });
            onClose();
          }}
        />
      </div>
    </Dialog>
  );
}

export function Readings({ view }: { view: TorqueView }): JSX.Element | null {
  const [correcting, setCorrecting] = useState<One | null>(null);
  if (view.readings.length === 0) return null;
  return (
    <details>
      <summary>Readings: {view.readings.length}</summary>
      <ul class="rows">
        {view.readings.map((one) => {
          const { reading } = one;
          const words = `Pass ${reading.pass_no}: ${readingWords(reading)}`;
          const gone = reading.crossed_out_ms;
          return (
            <li key={reading.id} class="reading-line">
              <ul class="rows">
                <FastenerRow
                  number={reading.bolt}
                  reading={gone ? "" : words}
                  crossedOut={gone ? words : undefined}
                  where={`${nameOf(reading.by)}, ${moment(takenMs(one))}${reading.wrench ? `, torque wrench ${reading.wrench}` : ""}${one.counts_now ? "" : ". Kept, does not count."} ${reasonWords(one.why)}`}
                />
              </ul>
              {!gone && (
                <Button
                  label="Typed wrong"
                  size={48}
                  heard={`Typed wrong, bolt ${reading.bolt}`}
                  onPress={() => setCorrecting(one)}
                />
              )}
            </li>
          );
        })}
      </ul>
      {correcting && <Correct one={correcting} onClose={() => setCorrecting(null)} />}
    </details>
  );
}
