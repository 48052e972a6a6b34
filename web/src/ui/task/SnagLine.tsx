/** A snag: what was found wrong, by whom, and that it was put right. */

import type { JSX } from "preact";
import { dispatch, madeHere, pending } from "../../app/outbox";
import { iWork, nameOf } from "../../app/session";
import type { RowKinds } from "../../wire/rows";
import { Payload } from "../Payload";
import { Button, Snag, Stub } from "../parts";
import { Photo } from "../photo/Photo";
import { moment } from "../words/times";

interface Props {
  one: RowKinds["snag"];
  number: number;
  /** On a list of many: where it was found, with the way there. */
  where?: JSX.Element | undefined;
}

export function SnagLine({ one, number, where }: Props): JSX.Element {
  const there = pending("snag.put_right", { snag: one.id }).length > 0;
  return (
    <Snag
      number={String(number)}
      what={one.note ? "Snag" : one.what}
      second={`Found by ${nameOf(one.by)}, ${moment(one.at_ms)}`}
      action={
        <div class="stack">
          {one.note && (
            <p>
              <Payload id={one.note} meanwhile={madeHere(one.id, "what_text")} />
            </p>
          )}
          {where}
          <Photo id={one.photo} row={one.id} about={`Snag, found by ${nameOf(one.by)}`} />
          {there ? (
            <Stub word="Put right, on this phone only" />
          ) : (
            iWork() && (
              <Button
                label="Put right"
                size={48}
                onPress={() => void dispatch("snag.put_right", { snag: one.id })}
              />
            )
          )}
        </div>
      }
    />
  );
}
