/**
 * What a task waits for, less what one's own sign-offs on this phone will lift. The service says of each wait what lifts
 * it (`lifted_by`); here it is only crossed off, by the cases of `tests/cases/ready_once_handed_over.json`.
 */

import type { Waiting } from "../local/store";
import type { components } from "../wire/schema";
import { pending } from "./outbox";

export type Wanted = components["schemas"]["Wanted"];

type Said = Pick<Waiting["envelope"], "kind" | "body">;

/** `unsent`: what lies on this phone, in order. */
export function isLifted({ lifted_by }: Pick<Wanted, "lifted_by">, unsent: readonly Said[]): boolean {
  if (!lifted_by) return false;
  const said = unsent.filter(({ body }) => body.task === lifted_by.task).map(({ kind }) => kind);
  return said.includes("task.sign_off") && !said.some((kind) => lifted_by.unless.includes(kind));
}

export function liftedHere(wait: Wanted): boolean {
  return isLifted(
    wait,
    pending(null).map(({ envelope }) => envelope),
  );
}

/** Will the task be ready when what lies here is handed over? Then it may be asked for, and begun. */
export function readyOnceHandedOver(waits: readonly Wanted[]): boolean {
  return waits.length > 0 && waits.every(liftedHere);
}
