/** What only the lead does to a task, each with a reason in the record: release it out of order (R5), clear a mark (R26). */

import type { JSX } from "preact";
import { useNow } from "../askNow";
import { RefusalPanel, WordsDialog } from "../parts";
import type { TaskRow } from "./progress";

export type LeadsAct = "release" | "clear-mark";

const WORDS: Record<LeadsAct, { title: string; said: string }> = {
  release: {
    title: "Release it out of order",
    said: "It may be taken before what comes before it is done. It closes only after that, and gates are not moved.",
  },
  "clear-mark": {
    title: "Clear the mark",
    said: "Look first: does what was built on undone work still hold? The mark goes, your reason stays.",
  },
};

export function LeadsReason(props: { task: TaskRow; act: LeadsAct; onClose: () => void }): JSX.Element {
  const asking = useNow();
  const { title, said } = WORDS[props.act];
  return (
    <WordsDialog
      title={title}
      said={said}
      label="Why?"
      confirmLabel={title}
      missing="write the reason"
      busy={asking.busy}
      problem={
        asking.problem && <RefusalPanel sentence={asking.problem.detail} remedy={asking.problem.way_on} />
      }
      onConfirm={async (reason_text) => {
        const path = `/tasks/${props.task.id}/${props.act}`;
        if (await asking.ask(path, { reason_text }, { seen: true })) props.onClose();
      }}
      onClose={props.onClose}
    />
  );
}
