import "fake-indexeddb/auto";
import { afterEach, expect, it, vi } from "vitest";

afterEach(() => vi.unstubAllGlobals());

/** The app as it is opened anew: its memory is fresh, what the phone keeps is not. */
async function opened() {
  vi.resetModules();
  const dataset: Record<string, string> = {};
  vi.stubGlobal("document", { documentElement: { dataset } });
  const { loadLooks, setLooks } = await import("../../src/ui/looks");
  const { fact } = await import("../../src/local/store");
  await loadLooks();
  return { dataset, setLooks, fact };
}

it("keeps what was chosen when the app is opened again, and is dark before", async () => {
  const first = await opened();
  expect(first.dataset).toEqual({ theme: "dark", hand: "right" });
  first.setLooks({ theme: "light" });
  first.setLooks({ leftHand: true });
  expect(first.dataset).toEqual({ theme: "light", hand: "left" });
  await vi.waitFor(async () => expect(await first.fact("looks")).toMatchObject({ leftHand: true }));

  const second = await opened();

  expect(second.dataset).toEqual({ theme: "light", hand: "left" });
});
