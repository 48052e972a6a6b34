import { readFileSync } from "node:fs";
import { afterEach, describe, expect, it, vi } from "vitest";
import { scaled, sha256Of } from "../../src/app/photoMaking";

const ABC = new TextEncoder().encode("abc").buffer;
// FIPS 180-4, the example that NIST publishes for "abc".
const OF_ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";

afterEach(() => vi.unstubAllGlobals());

describe("a photo gets its name", () => {
  it("from the browser's own digest", async () => {
    expect(await sha256Of(ABC)).toBe(OF_ABC);
  });

  it("from the loaded one, where the page came over plain HTTP", async () => {
    vi.stubGlobal("crypto", {});
    expect(await sha256Of(ABC)).toBe(OF_ABC);
  });
});

describe("a photo is scaled", () => {
  it.each([
    [4000, 3000, 1800, 1350],
    [3000, 4000, 1350, 1800],
    [1800, 10, 1800, 10],
    [640, 480, 640, 480],
    [9000, 3, 1800, 1],
  ])("%i × %i becomes %i × %i", (width, height, wide, high) => {
    expect(scaled(width, height)).toEqual({ width: wide, height: high });
  });
});

it("the digest library is loaded only when it is needed", () => {
  const source = readFileSync(new URL("../../src/app/photoMaking.ts", import.meta.url), "utf8");
  expect(source).not.toMatch(/^import .*noble/m);
});
