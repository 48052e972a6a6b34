import { beforeEach, describe, expect, it } from "vitest";
import { othersWait, outbox, refusals, refusedOn, unansweredCount, waitingCount } from "../../src/app/outbox";
import { build, me } from "../../src/app/session";
import type { Waiting } from "../../src/local/store";

const problem = { code: "does_not_suit", title: "t", status: 409, detail: "That place does not suit you." };

function one(id: string, by: string, more: Partial<Waiting>): Waiting {
  const envelope = { id, kind: "lift.take_place", device_ms: 1, body: { lift: "L1", place: "front" } };
  return { id, build: "b1", by, envelope, made_ms: 1, state: "waiting", ...more };
}

function atTheTablet(person: string): void {
  me.value = {
    person,
    name: person,
    device: "d",
    device_shared: true,
    mode: "https",
    first_run: false,
    builds: [],
  };
}

beforeEach(() => {
  build.value = { id: "b1", name: "Quillback Two", role: "helper" };
  outbox.value = [
    one("01", "aled", { state: "refused", problem }),
    one("02", "aled", { in_vain: { times: 9, since_ms: 0, problem } }),
    one("03", "bram", {}),
  ];
});

describe("at the shared tablet", () => {
  it("what was refused is shown to whoever made it, in its place and among what is still here", () => {
    atTheTablet("aled");
    expect(refusedOn({ lift: "L1" }).map(({ id }) => id)).toEqual(["01"]);
    expect(refusals.value).toHaveLength(1);
    expect([waitingCount.value, unansweredCount.value]).toEqual([3, 1]);
  });

  it("the next person hears nothing of it, not even that there is one (R21); of what waits only how many there are", () => {
    atTheTablet("bram");
    expect(refusedOn({ lift: "L1" })).toEqual([]);
    expect(refusals.value).toEqual([]);
    expect([waitingCount.value, unansweredCount.value]).toEqual([2, 0]);
    expect(othersWait.value.map(({ by }) => by)).toEqual(["aled"]);
  });
});
