/** Who calls for this person now: a lift, a check, a second that is asked for. Read off the mirrored rows. */

import { rows } from "../app/mirror";
import { me, nameOf } from "../app/session";
import { isUp, type LiftRow, sameLift } from "./lift/live";
import { moment } from "./words/times";

export interface Call {
  key: string;
  kind: "lift" | "check" | "two";
  sentence: string;
  href: string;
}

/** What is up comes first, then what is called for the nearest hour. */
function liftCalls(person: string): Call[] {
  const calls: Call[] = [];
  const by = (lift: LiftRow): number => (isUp(lift) ? 0 : (lift.when_ms ?? 0));
  for (const lift of [...rows("lift").values()].sort((a, b) => by(a) - by(b))) {
    const say = (sentence: string) =>
      calls.push({ key: `${lift.id}/${lift.round}`, kind: "lift", sentence, href: `/lifts/${lift.id}` });
    const mine = sameLift(lift, person);
    if (lift.state === "lifting" || lift.state === "held") {
      if (!lift.set_down) say(`${lift.plan.title}: ${lift.state === "held" ? "held" : "lifting now"}`);
      else if (mine && lift.set_down.by !== person) say(`${lift.plan.title}: sign it as landed`);
    } else if (lift.state === "called" || lift.state === "crewed" || lift.state === "in_place") {
      const member = rows("member").get(person);
      if (member?.minor || member?.role === "viewer") continue;
      const at = lift.when_ms ? moment(lift.when_ms) : "today";
      if (!lift.answers?.[person]) say(`Lift at ${at}: your answer is wanted`);
      else if (mine && !lift.ready?.[person] && lift.places?.caller !== person)
        say(`Lift at ${at}: read your briefing`);
      else if (lift.places?.caller === person && lift.state !== "called") say(`Lift at ${at}: you call it`);
    }
  }
  return calls;
}

/** Groups somebody asked a check for, that this person did not touch (R13). */
function checkCall(person: string): Call[] {
  const member = rows("member").get(person);
  if (!member?.may_countersign || member.minor || member.left) return [];
  const worked = new Map<string, Set<string>>();
  for (const task of rows("task").values()) {
    for (const step of task.plan.steps) {
      if (step.kind !== "tighten" || !step.group) continue;
      const people = worked.get(step.group) ?? new Set<string>();
      for (const one of [...(task.worked ?? []), ...(task.mates ?? []).map((mate) => mate.person)])
        people.add(one);
      if (task.holder) people.add(task.holder);
      worked.set(step.group, people);
    }
  }
  const waits = [...rows("group").values()].filter(
    (group) =>
      group.check_asked_ms &&
      group.state === "final" &&
      !group.countersign &&
      !group.left_out &&
      !(group.touched ?? []).includes(person) &&
      !worked.get(group.id)?.has(person),
  );
  if (waits.length === 0) return [];
  const sentence = waits.length === 1 ? "1 check waits for you" : `${waits.length} checks wait for you`;
  return [{ key: waits.map((group) => group.id).join(), kind: "check", sentence, href: "/checks" }];
}

function secondCalls(person: string): Call[] {
  const member = rows("member").get(person);
  if (!member || member.minor || member.role === "viewer") return [];
  const calls: Call[] = [];
  const among = (key: string, sentence: string) =>
    calls.push({ key, kind: "two", sentence: `${sentence}: a second is wanted`, href: "/loose-ends" });
  for (const one of rows("proposal").values()) {
    if (one.state !== "waiting" || one.by === person) continue;
    if (one.what === "open_gate" && member.may_countersign) {
      const gate = rows("gate").get(one.about)?.plan.name ?? "the gate";
      calls.push({
        key: one.id,
        kind: "two",
        sentence: `Open “${gate}” with ${nameOf(one.by)}?`,
        href: `/gates/${one.about}`,
      });
    } else if (one.what === "put_right") among(one.id, `${nameOf(one.by)} put something right another way`);
    else if (one.what === "lift_tag") among(one.id, `${nameOf(one.by)} would lift a tag`);
  }
  return calls;
}

export function callsForMe(): Call[] {
  const person = me.value?.person;
  if (!person) return [];
  return [...liftCalls(person), ...checkCall(person), ...secondCalls(person)];
}
