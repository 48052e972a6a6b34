/** The torque wrenches of the tool store: how each stands, its checks, drops, out of use and back. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { dispatch, pending } from "../../app/outbox";
import { me } from "../../app/session";
import { useView } from "../../app/views";
import type { RowKinds } from "../../wire/rows";
import type { components } from "../../wire/schema";
import { Button, EmptyState, Stub, TextField } from "../parts";
import { RefusedHere } from "../RefusedHere";
import { usesWords } from "../torque/wrench";
import { age, lastDay, moment } from "../words/times";
import { unitWord } from "../words/units";
import { EnterWrench } from "./EnterWrench";
import { HouseCheck, weighedWords } from "./HouseCheck";

type StoresView = components["schemas"]["StoresView"];
type Wrench = RowKinds["torque_wrench"];
type Doing = "weigh" | "certificate" | null;

function standing(wrench: Wrench, now: number): string {
  if (wrench.retired_ms) return `out of use since ${moment(wrench.retired_ms)}`;
  const checks = [...(wrench.checks ?? [])].sort((a, b) => b.at_ms - a.at_ms);
  const last = checks[0];
  if (wrench.dropped_ms && (!last || last.at_ms < wrench.dropped_ms))
    return "dropped: unfit until it is checked";
  if (!last) return "never checked: does not count for a critical group";
  const kind = last.kind === "house_check" ? "house check" : "certificate";
  if (!last.good) return `did not hold at its last ${kind === "certificate" ? "check" : kind}: unfit`;
  if (last.until_ms < now)
    return `${kind} ran out ${age(now - last.until_ms)} ago: does not count for a critical group`;
  return `${kind} holds to ${lastDay(last.until_ms)}`;
}

/** A certificate by its day; it holds for the torque wrench's own interval. */
function Certificate({ wrench, onDone }: { wrench: Wrench; onDone: () => void }): JSX.Element {
  const [day, setDay] = useState("");
  const until = () => {
    const due = new Date(`${day}T00:00:00Z`);
    due.setUTCMonth(due.getUTCMonth() + (wrench.plan.check_months ?? 12));
    return due.getTime();
  };
  return (
    <div class="stack">
      <TextField label="Day of its certificate" kind="date" value={day} onType={setDay} />
      <div class="row-of-buttons">
        <Button
          label="Record this certificate"
          blocked={day ? undefined : "choose the day"}
          onPress={() => {
            void dispatch("wrench.check", {
              wrench: wrench.id,
              kind: "certificate",
              checked_ms: Date.parse(`${day}T00:00:00Z`),
              until_ms: until(),
              good: true,
            });
            onDone();
          }}
        />
        <Button label="Leave it" kind="quiet" onPress={onDone} />
      </div>
    </div>
  );
}

function More({ wrench, builder, onClose }: { wrench: Wrench; builder: boolean; onClose: () => void }) {
  const [doing, setDoing] = useState<Doing>(null);
  const done = () => setDoing(null);
  if (doing === "weigh") return <HouseCheck wrench={wrench} onDone={done} />;
  if (doing === "certificate") return <Certificate wrench={wrench} onDone={done} />;
  return (
    <div class="row-of-buttons">
      <Button label="It was dropped" onPress={() => void dispatch("wrench.dropped", { wrench: wrench.id })} />
      {builder && !wrench.retired_ms && (
        <>
          <Button label="House check by a weight" onPress={() => setDoing("weigh")} />
          <Button label="It has a new certificate" onPress={() => setDoing("certificate")} />
        </>
      )}
      {builder && (
        <Button
          label={wrench.retired_ms ? "Back into use" : "Out of use"}
          onPress={() => void dispatch("wrench.retire", { wrench: wrench.id, back: !!wrench.retired_ms })}
        />
      )}
      <Button label="Close" kind="quiet" onPress={onClose} />
    </div>
  );
}

/** What the service counts and works out of it; nothing until it has said so once. */
function Known({ one }: { one: StoresView["wrenches"][number] | undefined }): JSX.Element | null {
  if (!one) return null;
  const { unit } = one.plan;
  const uses = usesWords(one);
  return (
    <>
      {uses && <span class="place-second">{uses}</span>}
      {one.claimed_from && (
        <span class="place-second">
          below {one.claimed_from} {unitWord(unit)}, 20 % of full scale, little is claimed for it
        </span>
      )}
    </>
  );
}

export function Wrenches(): JSX.Element {
  const known = useView<StoresView>("/stores").data?.wrenches;
  const [open, setOpen] = useState<string | null>(null);
  const [entering, setEntering] = useState(false);
  const mine = rows("member").get(me.value?.person ?? "");
  const builder = mine?.role === "lead" || mine?.role === "builder";
  const wrenches = [...rows("torque_wrench").values()].sort(
    (a, b) => Number(!!a.retired_ms) - Number(!!b.retired_ms),
  );
  if (entering) return <EnterWrench onDone={() => setEntering(false)} />;
  return (
    <>
      {wrenches.length === 0 && (
        <EmptyState
          sentence={`No torque wrench is entered yet. The plan file brings them, or ${builder ? "you enter one" : "a builder enters one"}.`}
        />
      )}
      <ul class="place-list">
        {wrenches.map((wrench) => (
          <li key={wrench.id} class="place-line">
            <span class="place-word">
              {wrench.id} · {wrench.name}
            </span>
            <span class="place-second">
              {wrench.plan.lowest} to {wrench.plan.highest} {unitWord(wrench.plan.unit)}, {wrench.plan.shows}
            </span>
            <span class="place-second">{standing(wrench, Date.now())}</span>
            <Known one={known?.find((one) => one.wrench === wrench.id)} />
            {weighedWords(wrench) && <span class="place-second">{weighedWords(wrench)}</span>}
            {pending("wrench.house_check", { wrench: wrench.id }).length > 0 && (
              <Stub word="House check, on this phone only" />
            )}
            <RefusedHere about={{ wrench: wrench.id }} />
            {open === wrench.id ? (
              <More wrench={wrench} builder={builder} onClose={() => setOpen(null)} />
            ) : (
              <Button
                label="More"
                size={48}
                heard={`More about ${wrench.name}`}
                onPress={() => setOpen(wrench.id)}
              />
            )}
          </li>
        ))}
      </ul>
      {wrenches.length > 0 && (
        <details>
          <summary>How a torque wrench is judged</summary>
          <div class="stack">
            <p>
              Its range: by its marks, as in ISO 6789-1:2017. The 2003 edition claims no accuracy below 20 %
              of full scale: there a reading counts, and the torque screen warns.
            </p>
            <p>
              Its check: twelve months, unless its entry says otherwise. 5000 uses are the 2003 edition's
              other limit, as makers report it: the readings here are counted, and stop nobody.
            </p>
            <p>
              A house check allows 4 %, or 6 % where the highest mark is no more than 10 N·m (ISO 6789:2003).
            </p>
          </div>
        </details>
      )}
      {pending("wrench.enter").map((one) => (
        <Stub key={one.id} word={`${String(one.envelope.body.name)}: entered, on this phone only`} />
      ))}
      {builder && <Button label="Enter a torque wrench" onPress={() => setEntering(true)} />}
    </>
  );
}
