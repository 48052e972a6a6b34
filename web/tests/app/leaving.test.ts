import "fake-indexeddb/auto";
import { expect, it, vi } from "vitest";
import { leavePresses } from "../../src/app/leaving";
import { dispatch, outbox } from "../../src/app/outbox";
import { build, me } from "../../src/app/session";
import { heard, silent } from "../../src/sync/link";

/** What anybody can read off a command in the record: version and variant of its id, and by how much times differ. */
function shape({ id, device_ms }: { id: string; device_ms?: number }) {
  const clock = Number.parseInt(id.replace("-", "").slice(0, 12), 16);
  return { version: id[14], variant: "89ab".includes(id[19] ?? ""), ahead: (device_ms ?? 0) - clock };
}

it("R21: a place given up for a private limit reads as left by a press on this phone", async () => {
  vi.useFakeTimers({ toFake: ["Date"] }); // a busy machine takes its time between two looks at the clock
  silent();
  heard(Date.now() + 90_000); // the phone's clock is a minute and a half slow
  build.value = { id: "B1", name: "Quillback Two", role: "builder" };
  me.value = { person: "bram", device: "phone" } as typeof me.value;
  await dispatch("lift.leave_place", { lift: "L1" });
  const pressed = shape(outbox.value[0]?.envelope as { id: string; device_ms: number });

  const made = leavePresses(Date.now() + 60_000);
  for (const one of made)
    expect(shape(one)).toEqual({ ...pressed, ahead: expect.closeTo(pressed.ahead, -2) });
  const times = made.map((one) => one.device_ms);
  for (const [at, time] of times.entries())
    if (at) expect(time - (times[at - 1] ?? 0)).toBeGreaterThan(1_000);
  expect(made.map((one) => one.id)).toEqual(made.map((one) => one.id).sort());
});
