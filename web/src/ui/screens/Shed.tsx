/** Everything that is not worked every minute. */

import type { JSX } from "preact";
import { PlaceList } from "../PlaceList";
import { Screen } from "../Screen";
import { SHED } from "../words/places";

export default function Shed(): JSX.Element {
  return (
    <Screen title="Shed" place="shed">
      <PlaceList places={SHED} />
    </Screen>
  );
}
