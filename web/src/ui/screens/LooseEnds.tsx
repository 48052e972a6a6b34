/** Loose ends and gates, as a screen. */

import type { JSX } from "preact";
import LooseEndsList from "../lists/LooseEndsList";
import { Screen } from "../Screen";

export default function LooseEnds(): JSX.Element {
  return (
    <Screen title="Loose ends" place="loose-ends">
      <LooseEndsList />
    </Screen>
  );
}
