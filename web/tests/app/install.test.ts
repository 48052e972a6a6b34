import { afterEach, expect, test, vi } from "vitest";
import { installOffer, keepInstallOffer, putOnHomeScreen } from "../../src/app/install";

afterEach(() => vi.unstubAllGlobals());

test("the browser's offer waits for the person and is used once", async () => {
  const page = new EventTarget();
  vi.stubGlobal("window", page);
  keepInstallOffer();
  const prompt = vi.fn(async () => undefined);
  const offer = Object.assign(new Event("beforeinstallprompt", { cancelable: true }), { prompt });
  page.dispatchEvent(offer);

  expect(offer.defaultPrevented).toBe(true);
  expect(prompt).not.toHaveBeenCalled();
  await putOnHomeScreen();
  await putOnHomeScreen();
  expect(prompt).toHaveBeenCalledTimes(1);
  expect(installOffer.value).toBeNull();
});
