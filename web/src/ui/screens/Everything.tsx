/** All places as one list: for very narrow screens and very large text. */

import type { JSX } from "preact";
import { PlaceList } from "../PlaceList";
import { Screen } from "../Screen";
import { PLACES, SHED } from "../words/places";

export default function Everything(): JSX.Element {
  return (
    <Screen title="Everything" place="everything">
      <PlaceList places={[...PLACES, ...SHED]} />
    </Screen>
  );
}
