/** Loudly, on every screen: a gate is shut and the engine may be running (R25). */

import type { JSX } from "preact";
import { rows } from "../../app/mirror";
import { dispatch, pending } from "../../app/outbox";
import { me } from "../../app/session";
import { Button, SignalPanel, Stub } from "../parts";

export function StopEngine(): JSX.Element | null {
  const gates = [...rows("gate").values()].filter((gate) => gate.stop_engine);
  if (gates.length === 0) return null;
  const said = pending("engine.say", { running: false }).length > 0;
  return (
    <div class="stack">
      <SignalPanel
        word="danger"
        what="Stop the engine."
        does={`${gates.map((gate) => gate.plan.name).join(", ")}: shut. Something it stood on is no longer true.`}
        how="Engine off, key out, then look at the list."
      />
      {rows("member").get(me.value?.person ?? "")?.role === "viewer" ? null : said ? (
        <Stub word="Engine off, on this phone only" />
      ) : (
        <Button
          label="The engine is off"
          size={64}
          wide
          onPress={() => void dispatch("engine.say", { running: false })}
        />
      )}
    </div>
  );
}
