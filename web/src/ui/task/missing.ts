/** Who must still join, be here or say yes, said on the button of a step itself: "1 more needed" (R5, R7, R8, R28). */

import type { components } from "../../wire/schema";

type Paused = Pick<components["schemas"]["Saying"], "code" | "params">;

export function missingWords(paused: Paused | null | undefined): string | undefined {
  if (paused?.code === "people_needed" || paused?.code === "skilled_needed")
    return `${String(paused.params?.missing ?? 1)} more needed`;
  if (paused?.code === "buddy_gone" || paused?.code === "alone") return "a second adult is needed";
  if (paused?.code === "hold_left_out")
    return `leaving out hold point ${String(paused.params?.number ?? "")} waits for a yes`;
  return undefined;
}
