/** A command in the crew's words: the same verb as its button (10 Words: one verb for one act). */

import { rows } from "../../app/mirror";
import type { Envelope } from "../../wire/core";
import { dayWords } from "./days";
import { unitWord } from "./units";

type Said = Pick<Envelope, "kind" | "body"> & Partial<Envelope>;
type Words = string | ((body: Envelope["body"]) => string);

const WORDS: Record<string, Words> = {
  "build.make": "Make the build",
  "task.take": "Ask for",
  "task.take_over": "Take over",
  "task.join": "Join",
  "task.leave": "Leave",
  "task.want_help": "Want help",
  "task.tick": "Step done",
  "task.untick": "Step not done",
  "task.measure": "Measure",
  "task.confirm_side": "Side confirmed",
  "task.have_part": "Have you got it?",
  "task.stuck": "I am stuck",
  "task.go_on": "Go on",
  "task.give_back": "Give back",
  "task.pass_on": "Pass on",
  "task.go_home": "Going home",
  "task.sign_off": "Sign it off",
  "torque.read": "Reading",
  "torque.run_in": "Run in, NOT tight",
  "torque.correct": "Typed wrong",
  "torque.new_fastener": "New one fitted",
  "torque.stop_here": "Stop here",
  "torque.ask_check": "Ask for a check",
  "torque.note_check": "Checked, PIN due",
  "torque.send_back": "Send it back",
  "torque.report_loosened": "Loosened",
  "lift.answer": "Answer to the lift",
  "lift.take_place": "Take a place",
  "lift.leave_place": "Leave my place",
  "lift.ready": "I'm ready",
  "lift.stop": "STOP",
  "lift.set_down": "Set down",
  "lift.sign_landed": "Sign as landed",
  "lift.stand_down": "Stand it down",
  "lift.report_by_voice": "Report it landed",
  "lift.weigh": "Write the weighing",
  "loose.report": "Dropped or left in",
  "loose.make_good": "Made good",
  "loose.propose_another_way": "Put right another way",
  "hazard.under": "I'm under",
  "hazard.out": "I'm out",
  "hazard.hang_tag": "Hang a tag",
  "hazard.lift_tag": "Lift my tag",
  "hazard.propose_lift_tag": "Lift a tag, two of us",
  "deviation.propose": "Done differently",
  "deviation.accept": "Accept it",
  "snag.report": "Report a snag",
  "snag.put_right": "Snag put right",
  "note.add": "Note",
  "evidence.keep": "Keep what was typed",
  "wrench.dropped": "Torque wrench dropped",
  "wrench.enter": "Enter a torque wrench",
  "wrench.check": ({ kind }) =>
    kind === "certificate" ? "Record this certificate" : "Record this house check",
  "wrench.house_check": "Record this house check",
  "wrench.retire": ({ back }) => (back ? "Back into use" : "Out of use"),
  "tool.borrow": "I take it:",
  "tool.return": "It is back:",
  "engine.say": ({ running }) => (running ? "The engine is running" : "The engine is off"),
  "two.withdraw": "Take it back",
  "gate.want": "Wanted by",
  "part.expect": "Expected on",
  "emergency.write": "Keep the emergency card",
  "crew.sign_in": "Sign in for the day",
  "crew.sign_out": "Sign out",
  "crew.visitor_in": "Visitor in",
  "crew.visitor_out": "Visitor gone",
};

const ABOUT = [
  "task",
  "group",
  "lift",
  "loose_end",
  "gate",
  "wrench",
  "tool",
  "part",
  "tag",
  "deviation",
  "snag",
] as const;

function about(envelope: Said): string {
  for (const field of ABOUT) {
    const value = envelope.body[field];
    if (typeof value === "string" && value.length < 24) return ` ${value}`;
  }
  return "";
}

/** "Ask for T605" */
export function commandWords(envelope: Said): string {
  const words = WORDS[envelope.kind] ?? envelope.kind;
  return `${typeof words === "string" ? words : words(envelope.body)}${about(envelope)}`;
}

interface Bolt {
  n: number;
  reading?: string | null;
  angle_deg?: string | null;
}

/** By their numbers, as the task's screen has them; by their ids where this phone does not know the task. */
function stepWords(task: unknown, ids: readonly string[]): string {
  const steps = rows("task").get(String(task))?.plan.steps ?? [];
  const numbers = ids.map((id) => steps.findIndex((step) => step.id === id) + 1 || id);
  return `${ids.length === 1 ? "Step" : "Steps"} ${numbers.join(", ")}.`;
}

/** The figures that were typed: "Bolt 3: 92 N·m." */
export function typedFigures({ body }: Said): string {
  const parts: string[] = [];
  const unit = typeof body.unit === "string" ? ` ${unitWord(body.unit)}` : "";
  if (Array.isArray(body.steps)) parts.push(stepWords(body.task, body.steps));
  else if (typeof body.step === "string") parts.push(stepWords(body.task, [body.step]));
  if (typeof body.on === "string") parts.push(`${dayWords(body.on)}.`);
  if (typeof body.value === "string") parts.push(`${body.value}${unit}.`);
  if (Array.isArray(body.bolts)) {
    for (const bolt of body.bolts as (Bolt | number)[]) {
      if (typeof bolt === "number") parts.push(`Bolt ${bolt}.`);
      else
        parts.push(
          `Bolt ${bolt.n}: ${bolt.reading ? `${bolt.reading}${unit}` : body.set_value ? `clicked at ${String(body.set_value)}${unit}` : bolt.angle_deg ? `turned ${bolt.angle_deg}°` : "noted"}.`,
        );
    }
  }
  return parts.join(" ");
}

/** The free words among it; in the record each is the id of a payload. */
export function typedTexts({ body }: Said): string[] {
  return Object.entries(body).flatMap(([field, value]) =>
    (field === "text" || field.endsWith("_text")) && typeof value === "string" ? [value] : [],
  );
}

/** What was typed, so that nothing is lost from sight: "Bolt 3: 92 N·m. “dirty”". */
export function typedWords(said: Said): string {
  return [typedFigures(said), ...typedTexts(said).map((text) => `“${text}”`)].filter(Boolean).join(" ");
}

/** Where the person can mend what was refused. */
export function linkTo(envelope: Envelope): string {
  const { body } = envelope;
  if (typeof body.group === "string") return `/groups/${body.group}`;
  if (typeof body.task === "string") return `/tasks/${body.task}`;
  if (typeof body.lift === "string") return `/lifts/${body.lift}`;
  if (typeof body.gate === "string") return `/gates/${body.gate}`;
  return "/";
}
