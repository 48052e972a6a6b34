/** Under the car (R27): saying so, "I'm out" in one tap on every screen, and "out" for somebody else after looking. */

import type { JSX } from "preact";
import { dispatch } from "../app/outbox";
import { actor, me, nameOf } from "../app/session";
import { isUnder } from "../app/under";
import { Button } from "./parts";

/** Stands on every screen for as long as it is so: whatever became of the task, it must be possible to say "I'm out". */
export function StillUnder(): JSX.Element | null {
  const person = actor.value;
  if (!isUnder(person)) return null;
  const mine = person === me.value?.person;
  return (
    <div class="row-of-buttons still-under">
      <strong>Under the car: {nameOf(person)}</strong>
      <Button
        label={mine ? "I'm out" : `${nameOf(person)} is out`}
        size={64}
        onPress={() => void dispatch("hazard.out", {})}
      />
    </div>
  );
}

/** For somebody else who is said to be under: whoever went and looked says that they are out. */
export function OutILooked({ person }: { person: string }): JSX.Element | null {
  if (person === actor.value || !isUnder(person)) return null;
  return (
    <Button
      label={person === me.value?.person ? "I'm out" : `${nameOf(person)} is out, I looked`}
      size={56}
      onPress={() => void dispatch("hazard.out", { person })}
    />
  );
}
