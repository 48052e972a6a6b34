/** What somebody said about a task, in the words of its stub while it waits on this phone. */

import { nameOf } from "../../app/session";
import type { Envelope } from "../../wire/core";

const SAID: Record<string, string> = {
  "task.take": "Asked for",
  "task.take_over": "Taken over",
  "task.join": "Joined",
  "task.leave": "Left",
  "task.want_help": "Help wanted",
  "task.stuck": "Stuck",
  "task.go_on": "Going on",
  "task.give_back": "Given back",
  "task.go_home": "Gone home from",
  "task.sign_off": "Signed off",
};

function said({ kind, body }: Envelope): string {
  if (kind === "task.pass_on") return `Passed on to ${nameOf(String(body.to_person))}`;
  if (kind === "task.want_help" && body.wanted === false) return "No more help wanted";
  return SAID[kind] ?? kind;
}

/** "Asked for, on this phone only" */
export function unsentWords(envelope: Envelope): string {
  return `${said(envelope)}, on this phone only`;
}
