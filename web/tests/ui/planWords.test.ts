import { describe, expect, it } from "vitest";
import { costWords, movesWords, waysWords } from "../../src/ui/days/words";

describe("words of the plan of the build days", () => {
  it("counts one as one", () => {
    expect(movesWords(1, 1, 1)).toBe(
      "1 change, 1 stays as it is. 1 slips by less than a quarter of an hour.",
    );
    expect(movesWords(2, 0, 3)).toBe(
      "2 changes, 0 stay as they are. 3 slip by less than a quarter of an hour.",
    );
    expect(movesWords(0, 5, 0)).toBe("Nothing moves.");
  });

  it("says what a time costs in hours and minutes, or that it is sooner", () => {
    expect(costWords(0)).toBe("Costs the finish nothing.");
    expect(costWords(125)).toBe("Costs the finish 2 h 5 min of build days.");
    expect(costWords(60)).toBe("Costs the finish 1 h of build days.");
    expect(costWords(-20)).toBe("All is over 20 min of build days sooner.");
  });

  it("says one way only where there is one", () => {
    expect(waysWords(1)).toBe("One way:");
    expect(waysWords(3)).toBe("3 ways, each enough by itself:");
  });
});
