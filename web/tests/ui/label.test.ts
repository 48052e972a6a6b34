import { encodeQR } from "qr";
import { decodeQR } from "qr/decode.js";
import { describe, expect, it } from "vitest";
import { labelText, placeOf } from "../../src/ui/scan/label";

describe("a label leads to its place", () => {
  it.each([
    ["https://garage.local:8420/bags/B24", "/bags/B24"],
    ["http://192.168.1.7:8420/tasks/T101", "/tasks/T101"], // the service moved since: only the path counts
    ["https://elsewhere.example/lifts/L2", "/lifts/L2"],
  ])("%s", (text, place) => {
    expect(placeOf(text)).toBe(place);
  });

  it.each([
    "B24",
    "https://garage.local/join#secret",
    "https://garage.local/tasks/T101/../../api/me",
    "https://garage.local/tasks/T101?next=evil",
    "javascript:alert(1)//tasks/T101",
    "https://garage.local/api/builds",
    "",
  ])("%s is none of ours, or leads nowhere else", (text) => {
    expect(placeOf(text)).toBeNull();
  });
});

it("what is printed is what is read", () => {
  const text = labelText("bags", "B24", "https://garage.local:8420");
  const rows = encodeQR(text, "raw", { ecc: "medium", border: 4, scale: 4 });
  const size = rows.length;
  const data = new Uint8ClampedArray(
    rows.flat().flatMap((dark) => (dark ? [0, 0, 0, 255] : [255, 255, 255, 255])),
  );
  expect(placeOf(decodeQR({ width: size, height: size, data }))).toBe("/bags/B24");
});
