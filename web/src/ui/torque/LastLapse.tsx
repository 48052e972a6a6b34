/** The countersign that was crossed out last: whose, by whom, when, and why (R14). Gone when a new one is in force. */

import type { JSX } from "preact";
import { nameOf } from "../../app/session";
import { moment } from "../words/times";
import type { TorqueView } from "./seen";

export function LastLapse({ view }: { view: TorqueView }): JSX.Element | null {
  const lapse = view.last_lapse;
  if (!lapse) return null;
  const next =
    view.state === "final" ? "It needs another check." : "Another check follows once all is final.";
  return (
    <section class="card stack" aria-label="Crossed out">
      <p>
        <s>
          Countersigned by {nameOf(lapse.signed_by)}, {moment(lapse.signed_ms)}
        </s>
      </p>
      <p>
        <strong>{lapse.says}</strong>
      </p>
      <p>
        Crossed out by {nameOf(lapse.by)}, {moment(lapse.at_ms)}.{view.needs_countersign && ` ${next}`}
      </p>
    </section>
  );
}
