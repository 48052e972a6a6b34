/** Labels to print: a code and a number for each bag, or for each task's place on the shelf. */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { Button, EmptyState, LoadingTags, QrCode, SwitchBar } from "../parts";
import { Screen } from "../Screen";
import { labelText } from "../scan/label";
import { bagWords } from "../words/bags";

type Kind = "bags" | "tasks";
type Encoder = (text: string) => readonly string[];

function useEncoder(): Encoder | null {
  const [encoder, setEncoder] = useState<{ encode: Encoder } | null>(null);
  useEffect(() => {
    let shown = true;
    void import("qr").then(({ encodeQR }) => {
      const encode: Encoder = (text) =>
        encodeQR(text, "raw", { ecc: "medium", border: 1 })
          .slice(1, -1)
          .map((row) =>
            row
              .slice(1, -1)
              .map((dark) => (dark ? "1" : "0"))
              .join(""),
          );
      if (shown) setEncoder({ encode });
    });
    return () => {
      shown = false;
    };
  }, []);
  return encoder?.encode ?? null;
}

export default function Labels(): JSX.Element {
  const [kind, setKind] = useState<Kind>("bags");
  const encode = useEncoder();
  const bags = (rows("build").get("build")?.bags ?? []).map((one) => ({
    id: one.id,
    word: bagWords(one.id),
  }));
  const tasks = [...rows("task").values()].map((one) => ({
    id: one.id,
    word: `${one.id} ${one.plan.title}`,
  }));
  const labels = kind === "bags" ? bags : tasks;
  return (
    <Screen title="Labels to print" place="stores">
      <div class="stack not-printed">
        <p>
          Cut them out, or print on label sheets. Any phone of the crew opens the bag or the task by its code.
        </p>
        <SwitchBar<Kind>
          label="Which labels"
          chosen={kind}
          onChoose={setKind}
          options={[
            { key: "bags", word: "Bags" },
            { key: "tasks", word: "Tasks" },
          ]}
        />
        <Button
          label="Print"
          wide
          blocked={labels.length === 0 ? "no labels" : undefined}
          onPress={() => print()}
        />
      </div>
      {labels.length === 0 ? (
        <EmptyState sentence="The plan has none. The plan file brings them." />
      ) : encode ? (
        <ul class="label-sheet">
          {labels.map((one) => (
            <li key={one.id} class="label">
              <QrCode modules={encode(labelText(kind, one.id))} label={`Code of ${one.word}`} />
              <span>{one.word}</span>
            </li>
          ))}
        </ul>
      ) : (
        <LoadingTags />
      )}
    </Screen>
  );
}
