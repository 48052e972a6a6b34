/** Why work has no place or a gate is late: what is in the way, what was found out about that, and ways out. */

import type { JSX } from "preact";
import type { components } from "../../wire/schema";
import { filled } from "../words/reason";
import { waysWords } from "./words";

type Line = components["schemas"]["WhyNotLine"];

/** `working`: a better plan is looked for, and perhaps what is in the way; undefined: nobody looks. */
export function WhyNot({
  reasons,
  working,
}: {
  reasons: readonly Line[];
  working?: boolean | undefined;
}): JSX.Element {
  return (
    <ul class="place-list">
      {reasons.map((one) => {
        const said = (text: string): string => filled(text, one.params);
        return (
          <li key={one.says} class="place-line">
            <span class="place-word">{said(one.says)}</span>
            {one.causes.length > 0 && (
              <ul class="place-second">
                {one.causes.map((cause) => (
                  <li key={cause}>{said(cause)}</li>
                ))}
              </ul>
            )}
            {one.note && <span class="place-second">{said(one.note)}</span>}
            {one.open && working !== undefined && (
              <span class="place-second">
                {working && one.looking
                  ? "Looking for what is in the way."
                  : "What is in the way was not found out in time."}
              </span>
            )}
            {one.remedies.length > 0 && (
              <>
                <span class="place-second">{waysWords(one.remedies.length)}</span>
                <ul class="place-second">
                  {one.remedies.map((way) => (
                    <li key={way}>{said(way)}</li>
                  ))}
                </ul>
              </>
            )}
          </li>
        );
      })}
    </ul>
  );
}
