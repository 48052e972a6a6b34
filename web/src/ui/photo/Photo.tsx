/** A photo of the record, by its payload id: small where it stands, whole when pressed. The lead can withdraw it (R1). */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { madeHere } from "../../app/outbox";
import { useWaitingPhoto } from "../../app/photos";
import { usePhoto } from "../../app/pictures";
import { iLead } from "../../app/session";
import { useNow } from "../askNow";
import { Button, Choice, Dialog, MainButton, RefusalPanel, Stub } from "../parts";

export function Photo(props: {
  id: string | null | undefined;
  about: string;
  /** Id of the row that names it: where this phone made that, its own picture stands here from the start. */
  row?: string;
}): JSX.Element | null {
  const seen = usePhoto(props.id, madeHere(props.row, "photo"));
  const [open, setOpen] = useState(false);
  if (!props.id) return null;
  if (!seen) return <p class="photo-small photo-wait t-dim">Photo …</p>;
  if (!seen.url) return <p class="t-dim">{seen.instead}</p>;
  return (
    <>
      <button
        type="button"
        class="photo-small"
        aria-label={`Photo: ${props.about}`}
        onClick={() => setOpen(true)}
      >
        <img src={seen.url} alt="" />
      </button>
      {seen.unsent && <Stub word="Photo on this phone, waiting" />}
      {open && <Whole id={props.id} url={seen.url} about={props.about} onClose={() => setOpen(false)} />}
    </>
  );
}

/** A photo that waits on this phone with what it belongs to, in the size it has in the record. */
export function WaitingPhoto({ sha256, about }: { sha256: string; about: string }): JSX.Element | null {
  const url = useWaitingPhoto(sha256);
  return url === null ? null : <img class="photo-small" src={url} alt={`Photo: ${about}`} />;
}

function Whole(props: { id: string; url: string; about: string; onClose: () => void }): JSX.Element {
  const [asked, setAsked] = useState(false);
  return (
    <Dialog
      open
      title={props.about}
      onClose={props.onClose}
      foot={<Button label="Close the photo" size={64} wide onPress={props.onClose} />}
    >
      <div class="stack">
        <figure class="photo">
          <img src={props.url} alt={props.about} />
        </figure>
        {asked ? (
          <Withdraw id={props.id} onDone={props.onClose} />
        ) : (
          iLead() && (
            <Button label="Withdraw this photo" size={48} kind="quiet" onPress={() => setAsked(true)} />
          )
        )}
      </div>
    </Dialog>
  );
}

const REASONS = [
  { key: "somebody_in_it", word: "Somebody in it does not want it" },
  { key: "private", word: "It shows something private" },
  { key: "wrong_one", word: "It is the wrong one" },
  { key: "other", word: "Something else" },
];

/** The picture goes for good; that there was one, and who withdrew it and why, stays. */
function Withdraw({ id, onDone }: { id: string; onDone: () => void }): JSX.Element {
  const now = useNow();
  const [reason, setReason] = useState<string | undefined>(undefined);
  return (
    <section class="stack" aria-label="Withdraw this photo">
      <p>
        The picture goes for good, on the service and on every phone. The entry stays, and says who withdrew
        it and why.
      </p>
      <Choice legend="Why?" options={REASONS} chosen={reason} onChoose={setReason} />
      {now.problem && <RefusalPanel sentence={now.problem.detail} remedy={now.problem.way_on} />}
      <MainButton
        label="Withdraw this photo"
        blocked={now.busy ? "asking the service" : reason ? undefined : "say why first"}
        onPress={async () => {
          if (await now.ask(`/payloads/${id}/withdraw`, { reason })) onDone();
        }}
      />
    </section>
  );
}
