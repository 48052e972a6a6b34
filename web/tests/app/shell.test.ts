import { afterEach, expect, test, vi } from "vitest";
import { keepShell, shellState } from "../../src/app/shell";

afterEach(() => vi.unstubAllGlobals());

test("where the browser has no service worker the shell comes from the network, and nothing fails", async () => {
  vi.stubGlobal("navigator", {});

  await keepShell();

  expect(shellState.value).toBe("network");
});
