/** Steps as a list: all of them before the task is taken, done ones and the rest while it is worked. */

import type { JSX } from "preact";
import { nameOf } from "../../app/session";
import { StepRow } from "../parts";
import { moment } from "../words/times";
import { unitWord } from "../words/units";
import type { StepSeen } from "./progress";

export function StepList({ steps }: { steps: readonly StepSeen[] }): JSX.Element {
  return (
    <ol class="rows">
      {steps.map((step) => (
        <StepRow
          key={step.plan.id}
          number={step.number}
          words={step.plan.say}
          state={step.state === "current" ? "to_do" : step.state}
          value={step.value ? `${step.value} ${unitWord(step.unit ?? "")}`.trim() : undefined}
          second={step.by && step.at_ms ? `${nameOf(step.by)}, ${moment(step.at_ms)}` : undefined}
          page={step.plan.manual ? `Manual ${step.plan.manual.page}` : undefined}
          stub={step.onPhone ? "On this phone only" : undefined}
        />
      ))}
    </ol>
  );
}
