import { expect, it } from "vitest";
import { me, people } from "../../src/app/session";
import { capital, who } from "../../src/ui/words/who";

it("says have of you and has of another", () => {
  me.value = { person: "ines" } as unknown as NonNullable<typeof me.value>;
  people.value = new Map([["aled", { name: "Aled Penhaligon" }]]) as unknown as typeof people.value;
  expect([who("aled", "has"), who("ines", "has"), who("ines", "was")]).toEqual([
    "Aled has",
    "you have",
    "you were",
  ]);
  expect(capital(who("ines", "is"))).toBe("You are");
});
