/** What a gate still wants, in words, and where each is put right. */

import { nameOf } from "../../app/session";
import type { components } from "../../wire/schema";
import { moment } from "../words/times";
import { who } from "../words/who";

export type GateView = components["schemas"]["GateView"];
export type Want = components["schemas"]["GateWant"];

const STATE: Record<string, string> = { open: "not taken", taken: "taken", done: "check due" };

export interface WantLine {
  key: string;
  words: string;
  second?: string;
  href: string;
}

export function wantLine(want: Want): WantLine {
  const params = (want.params ?? {}) as Record<string, unknown>;
  const text = (name: string): string | undefined =>
    params[name] === undefined || params[name] === null ? undefined : String(params[name]);
  const key = `${want.kind}:${want.about}`;
  const task = `/tasks/${want.about}`;
  switch (want.kind) {
    case "task_open": {
      const holder = text("holder_person");
      const state = STATE[text("state") ?? ""] ?? text("state");
      return {
        key,
        words: `Not closed: ${want.about}${params.title ? `, ${String(params.title)}` : ""}`,
        second: [state, holder ? `${who(holder, "has")} it` : undefined].filter(Boolean).join(", "),
        href: task,
      };
    }
    case "loose_end": {
      const by = text("task");
      return {
        key,
        words: `Loose: ${text("what") ?? want.about}`,
        ...(by ? { second: `Made good by ${by}` } : {}),
        href: by ? `/tasks/${by}` : "/loose-ends",
      };
    }
    case "gate_shut":
      return {
        key,
        words: `A gate before it is shut: ${text("name") ?? want.about}`,
        href: `/gates/${want.about}`,
      };
    case "check_missing":
      return {
        key,
        words: `A countersign is missing: ${text("name") ?? want.about}`,
        second: text("state") === "final" ? "The check waits" : "Not final yet",
        href: text("state") === "final" ? `/checks/${want.about}` : `/groups/${want.about}`,
      };
    case "lag": {
      const until = text("until_ms");
      return {
        key,
        words: `Wait after ${text("title") ?? want.about}`,
        second: until ? `Until ${moment(Number(until))}` : "It has not begun",
        href: task,
      };
    }
    default:
      return {
        key,
        words: `Built on undone work: ${want.about}${params.title ? `, ${String(params.title)}` : ""}`,
        second: "The lead clears it with a reason",
        href: task,
      };
  }
}

/** "Ready to crank stays shut: 3 to go" */
export function gateSentence(gate: GateView): string {
  if (gate.state === "open") {
    const names = gate.opened_by.map((one) => nameOf(one)).join(" and ");
    return `Open: ${names}${gate.opened_ms ? `, ${moment(gate.opened_ms)}` : ""}`;
  }
  if (gate.wants.length > 0) return `${gate.name} stays shut: ${gate.wants.length} to go`;
  return gate.opening ? "Shut. A second person is asked." : "Shut. Nothing is missing; two people open it.";
}
