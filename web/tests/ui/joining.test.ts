import { describe, expect, it } from "vitest";
import { joinsAs, joinWords } from "../../src/ui/task/joining";

type Level = "no" | "watch" | "with_adult";

describe("as what somebody joins (R8)", () => {
  it.each<[Level, Level | null, string | null]>([
    ["no", null, "hand"],
    ["watch", null, "hand"],
    ["with_adult", "with_adult", "hand"],
    ["with_adult", "watch", "watcher"],
    ["watch", "with_adult", "watcher"],
    ["watch", "no", null],
    ["no", "with_adult", null],
  ])("task %s, member %s: the stricter counts", (minors, minor, expected) => {
    expect(joinsAs({ plan: { minors } as never }, { minor, skills: [] })).toBe(expected);
  });

  it("the one who lacks the skill joins to learn", () => {
    const plan = { minors: "no", lead_skill: "brakes" } as never;
    expect(joinsAs({ plan }, { minor: null, skills: ["brakes"] })).toBe("hand");
    expect(joinsAs({ plan }, { minor: null, skills: ["electrical"] })).toBe("learner");
  });

  it("and the button says so", () => {
    expect(joinWords("hand", "Bram")).toBe("Join Bram");
    expect(joinWords("learner", "Bram")).toBe("Join Bram and learn");
    expect(joinWords("watcher", "Bram")).toBe("Watch Bram at it");
  });
});
