import { afterEach, expect, test, vi } from "vitest";
import { keepScreenOn } from "../../src/ui/screenOn";

afterEach(() => vi.unstubAllGlobals());

function phone() {
  const page = Object.assign(new EventTarget(), { visibilityState: "visible" });
  const locks: { release: ReturnType<typeof vi.fn> }[] = [];
  const request = vi.fn(async () => {
    const lock = { release: vi.fn(async () => undefined) };
    locks.push(lock);
    return lock;
  });
  vi.stubGlobal("document", page);
  vi.stubGlobal("navigator", { wakeLock: { request } });
  const seen = (visibilityState: string) => {
    page.visibilityState = visibilityState;
    page.dispatchEvent(new Event("visibilitychange"));
  };
  return { locks, request, seen };
}

test("the screen is asked for again when the page is seen again, not while it is hidden", async () => {
  const { request, seen } = phone();
  keepScreenOn();
  seen("hidden");
  expect(request).toHaveBeenCalledTimes(1);
  seen("visible");
  expect(request).toHaveBeenCalledTimes(2);
});

test("leaving lets go of every hold and asks no more", async () => {
  const { locks, request, seen } = phone();
  const leave = keepScreenOn();
  seen("visible");
  await Promise.resolve();
  await Promise.resolve();
  leave();
  seen("visible");
  expect(request).toHaveBeenCalledTimes(2);
  expect(locks.map((lock) => lock.release.mock.calls.length)).toEqual([1, 1]);
});

test("a hold that comes after leaving is let go at once", async () => {
  const { locks } = phone();
  keepScreenOn()();
  await vi.waitFor(() => expect(locks[0]?.release).toHaveBeenCalledTimes(1));
});

test("a browser without it fails nothing", () => {
  vi.stubGlobal("navigator", {});
  expect(keepScreenOn()).not.toThrow();
});
