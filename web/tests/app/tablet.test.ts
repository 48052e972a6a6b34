import "fake-indexeddb/auto";
import { afterEach, beforeEach, expect, it, vi } from "vitest";
import { me } from "../../src/app/session";
import { watchTablet } from "../../src/app/tablet";
import { fact } from "../../src/local/store";
import { link } from "../../src/sync/link";

const MINUTE_MS = 60_000; // R29: signs out after a minute
let press: () => void = () => undefined;
let held = false;

beforeEach(() => {
  vi.useFakeTimers({ toFake: ["Date", "setInterval", "clearInterval"] });
  vi.stubGlobal("addEventListener", (_kind: string, heard: () => void) => {
    press = heard;
  });
  held = false;
  link.value = { ...link.value, up: false };
  me.value = {
    person: "aled",
    name: "Aled",
    device: "d",
    device_shared: true,
    mode: "https",
    first_run: false,
    builds: [{ id: "b1", name: "Quillback Two", role: "helper" }],
  };
  watchTablet(() => held);
});
afterEach(() => {
  vi.clearAllTimers();
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

it("without a connection too nobody stays at the tablet for more than a minute without a press (R29)", async () => {
  vi.advanceTimersByTime(MINUTE_MS - 5_000);
  press();
  vi.advanceTimersByTime(MINUTE_MS - 5_000);
  expect(me.value?.person).toBe("aled");
  vi.advanceTimersByTime(10_000);
  expect(me.value?.person).toBeNull();
  expect(me.value?.device_shared).toBe(true);
  await vi.waitFor(async () => expect((await fact<{ person: null }>("me"))?.person).toBeNull());
});

it("not while the service itself says who is at it, nor while they stand at a load (R19), nor on one's own phone", () => {
  link.value = { ...link.value, up: true };
  vi.advanceTimersByTime(5 * MINUTE_MS);
  expect(me.value?.person).toBe("aled");
  link.value = { ...link.value, up: false };
  held = true;
  vi.advanceTimersByTime(5 * MINUTE_MS);
  expect(me.value?.person).toBe("aled");
  held = false;
  if (me.value) me.value = { ...me.value, device_shared: false };
  vi.advanceTimersByTime(5 * MINUTE_MS);
  expect(me.value?.person).toBe("aled");
});
