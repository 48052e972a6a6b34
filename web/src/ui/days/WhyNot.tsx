/** Why work has no place, and the smallest changes that would give it one. */

import type { JSX } from "preact";
import type { components } from "../../wire/schema";

type Line = components["schemas"]["WhyNotLine"];

export function WhyNot({ reasons }: { reasons: readonly Line[] }): JSX.Element {
  return (
    <ul class="place-list">
      {reasons.map((one) => (
        <li key={one.task} class="place-line">
          <span class="place-word">{one.says}</span>
          {one.remedies.length > 0 && (
            <span class="place-second">What would do: {one.remedies.join(" Or: ")}</span>
          )}
        </li>
      ))}
    </ul>
  );
}
