/** Mass and centre of gravity as found by weighing; the shares are worked out anew. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { dispatch } from "../../app/outbox";
import { MainButton, TextField } from "../parts";
import { readNumber } from "../words/numbers";
import type { LiftView } from "./Drawing";
import { HowToFind } from "./HowToFind";

const LEVEL = [
  { key: "mass_kg", label: "Mass, in kg" },
  { key: "mass_plus_minus_kg", label: "Give or take, in kg" },
  { key: "cg_x_mm", label: "Centre of gravity from the front, in mm" },
  { key: "cg_y_mm", label: "Centre of gravity to the right of the middle line, in mm" },
  { key: "cg_plus_minus_mm", label: "Give or take, in mm" },
] as const;
const ABOVE = {
  key: "cg_above_hands_mm",
  label: "Centre of gravity above the hands, in mm (below: minus)",
} as const;
type Key = (typeof LEVEL)[number]["key"] | typeof ABOVE.key;

/** Mass or centre of gravity is not known: it can't be called before they are found. */
export function unknownLoad(view: LiftView): boolean {
  return view.unfit?.code === "mass_unknown" || view.unfit?.code === "cg_unknown";
}

export function Weigh({ view }: { view: LiftView }): JSX.Element {
  const { load } = view;
  const fields = load.tilted ? [...LEVEL, ABOVE] : LEVEL;
  const [typed, setTyped] = useState<Record<Key, string>>({
    mass_kg: load.mass_kg ?? "",
    mass_plus_minus_kg: load.mass_plus_minus_kg,
    cg_x_mm: load.cg_x_mm ?? "",
    cg_y_mm: load.cg_y_mm ?? "0",
    cg_plus_minus_mm: load.cg_plus_minus_mm,
    cg_above_hands_mm: load.cg_above_hands_mm ?? "",
  });
  const [how, setHow] = useState("two scales, level");
  const wrong = (key: Key): string | undefined =>
    typed[key] && (!readNumber(typed[key]) || typed[key].includes("/"))
      ? "Type a number, such as 84 or 84,5."
      : undefined;
  const open = LEVEL.find(({ key }) => !typed[key].trim() || wrong(key)) ?? (wrong(ABOVE.key) && ABOVE);
  return (
    <details class="fold" open={unknownLoad(view)}>
      <summary>Weigh it</summary>
      <div class="stack">
        <HowToFind />
        {fields.map(({ key, label }) => (
          <TextField
            key={key}
            label={label}
            value={typed[key]}
            wrong={wrong(key)}
            onType={(value) => setTyped({ ...typed, [key]: value })}
          />
        ))}
        <TextField label="How was it found?" value={how} onType={setHow} maxLength={200} />
        <MainButton
          label="Write the weighing"
          blocked={open ? `${open.label} is missing` : how.trim() ? undefined : "say how it was found"}
          onPress={() => {
            const written = fields.filter(({ key }) => typed[key].trim());
            const values = Object.fromEntries(written.map(({ key }) => [key, typed[key].trim()]));
            void dispatch("lift.weigh", { lift: view.id, ...values, how_known_text: how.trim() });
          }}
        />
      </div>
    </details>
  );
}
