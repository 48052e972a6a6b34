/** One line per call under the strip: a lift that wants my answer, a check that waits for me, a second asked for. */

import type { JSX } from "preact";
import { callsForMe } from "./calls";
import { CallLine } from "./parts";

export function Calls(): JSX.Element | null {
  const calls = callsForMe();
  if (calls.length === 0) return null;
  return (
    <>
      {calls.map((one) => (
        <CallLine key={one.key} sentence={one.sentence} href={one.href} />
      ))}
    </>
  );
}
