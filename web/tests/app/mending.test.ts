import "fake-indexeddb/auto";
import { beforeEach, expect, it, vi } from "vitest";
import { dispatch, outbox, refreshOutbox } from "../../src/app/outbox";
import { build, me, typingFor } from "../../src/app/session";
import { keep, type Waiting } from "../../src/local/store";
import { mendLink } from "../../src/ui/mending";

const BUILD = { id: "b1", name: "Hare", role: "builder" };

/** Aled's own, refused; `typedFor`: what he typed for somebody without a phone. */
async function refused(id: string, typedFor?: string): Promise<Waiting> {
  const envelope = { id, kind: "task.stuck", device_ms: 7, body: { task: "T1", reason: "other" } };
  const one: Waiting = {
    id,
    build: BUILD.id,
    by: "aled",
    made_ms: 5,
    state: "refused",
    envelope: { ...envelope, ...(typedFor ? { for_person: typedFor } : {}) },
  };
  await keep(one);
  await refreshOutbox();
  return one;
}

function at(person: string): void {
  me.value = { person } as typeof me.value;
}

beforeEach(() => {
  vi.stubGlobal("navigator", {});
  build.value = BUILD;
  at("aled");
  typingFor.value = null;
});

it.each([
  ["Sam's stays Sam's when nobody is typed for any more", "sam", null, "sam"],
  ["Sam's stays Sam's while he types for Kofi", "sam", "kofi", "sam"],
  ["his own stays his own while he types for Kofi", undefined, "kofi", undefined],
])("R29: what is mended is written down as the act of whom it was: %s", async (_case, was, now, becomes) => {
  const mends = await refused(`r-${was}-${now}`, was);
  typingFor.value = now;
  const id = await dispatch("task.stuck", { task: "T1", reason: "tool" }, { mends });
  expect(outbox.value.find((one) => one.id === id)?.envelope.for_person).toBe(becomes);
  expect(outbox.value.some((one) => one.id === mends.id)).toBe(false);
});

it("what is no mending is the act of whom is typed for", async () => {
  typingFor.value = "kofi";
  const id = await dispatch("task.tick", { task: "T1", steps: ["a"] });
  expect(outbox.value.find((one) => one.id === id)?.envelope.for_person).toBe("kofi");
});

it("mending is offered to whoever made it, and to nobody else at the same phone", async () => {
  const one = await refused("r-mine");
  expect(mendLink(one)).toBe("/tasks/T1?mend=r-mine");
  at("bram");
  expect(mendLink(one)).toBeNull();
});
