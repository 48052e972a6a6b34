/** A refusal shown before it happens, in words: what is so, and what to do. */

import type { components } from "../../wire/schema";
import { filled } from "./reason";

export type Saying = components["schemas"]["Saying"];

export function says(one: Saying): string {
  return filled(one.says, one.params ?? {});
}

export function wayOn(one: Saying): string {
  return filled(one.way_on, one.params ?? {});
}
