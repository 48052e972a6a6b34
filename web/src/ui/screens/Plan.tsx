/** The plan, as a screen. */

import type { JSX } from "preact";
import PlanList from "../lists/PlanList";
import { Screen } from "../Screen";

export default function Plan(): JSX.Element {
  return (
    <Screen title="Plan" place="plan">
      <PlanList />
    </Screen>
  );
}
