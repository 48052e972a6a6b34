/** A plan file looked at before it is loaded: its faults, and what its build has to choose. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { type Finding, faultsOf } from "./PlanFindings";
import { Choice } from "./parts";
import type { Post } from "./usePost";

interface Option {
  id: string;
  say: string;
  default: string;
  choices: { id: string; say: string }[];
}
interface Checked {
  findings: Finding[];
  options: Option[];
}

export interface PlanFile {
  file: { name: string; text: string } | null;
  /** Null until the service has looked at it. */
  checked: Checked | null;
  /** What keeps it from being loaded. */
  faults: Finding[];
  chosen: Record<string, string>;
  look(picked: File, inForce: Record<string, string>): Promise<void>;
  choose(option: string, choice: string): Promise<void>;
  leave(): void;
}

export function usePlanFile(post: Post): PlanFile {
  const [file, setFile] = useState<{ name: string; text: string } | null>(null);
  const [checked, setChecked] = useState<Checked | null>(null);
  const [chosen, setChosen] = useState<Record<string, string>>({});

  async function check(text: string, options: Record<string, string>): Promise<void> {
    const answer = await post.send<Checked>("POST", "/api/plan/check", { text, options });
    if (!answer) return;
    setChecked(answer);
    setChosen({ ...Object.fromEntries(answer.options.map((one) => [one.id, one.default])), ...options });
  }
  return {
    file,
    checked,
    faults: faultsOf(checked?.findings ?? []),
    chosen,
    async look(picked, inForce) {
      const text = await picked.text();
      setFile({ name: picked.name, text });
      setChecked(null);
      await check(text, inForce);
    },
    async choose(option, choice) {
      const options = { ...chosen, [option]: choice };
      setChosen(options);
      if (file) await check(file.text, options);
    },
    leave() {
      setFile(null);
      setChecked(null);
      setChosen({});
    },
  };
}

/** What a loaded plan leaves to choose: each choice is looked at anew, for faults may hang on it. */
export function PlanOptions({ plan }: { plan: PlanFile }): JSX.Element {
  return (
    <>
      {plan.checked?.options.map((option) => (
        <Choice
          key={option.id}
          legend={option.say}
          chosen={plan.chosen[option.id]}
          options={option.choices.map((choice) => ({ key: choice.id, word: choice.say }))}
          onChoose={(choice) => void plan.choose(option.id, choice)}
        />
      ))}
    </>
  );
}
