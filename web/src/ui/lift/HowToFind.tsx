/** How a mass and a centre of gravity are found: two scales, a pipe, tilted for the height; forms of the Bench for it. */

import type { JSX } from "preact";
import { LinkButton } from "../parts";

export function HowToFind(): JSX.Element {
  return (
    <section class="stack" aria-label="How to find them">
      <p>
        <strong>Two scales.</strong> One under each end, level: the readings add up to the mass. The centre
        lies nearer the end that reads more.
      </p>
      <LinkButton label="Work it out: two scales" href="/bench/weigh" kind="quiet" size={48} />
      <p>
        <strong>No scales.</strong> Roll the load on a pipe until it balances: under the pipe is the centre.
        The mass is then still to be found.
      </p>
      <p>
        <strong>Its height.</strong> Raise the rear on blocks and read the front scale again; springs and
        tyres blocked, nobody beneath. On a slope or stairs the height moves load to the lower hands.
      </p>
      <LinkButton label="Work it out: tilted" href="/bench/weigh_tilted" kind="quiet" size={48} />
      <p>
        <strong>Is it likely?</strong> Hold the mass against what such parts usually weigh. It catches a
        misread scale; it is no weighing.
      </p>
      <LinkButton label="Usual masses" href="/bench/usual_mass" kind="quiet" size={48} />
    </section>
  );
}
