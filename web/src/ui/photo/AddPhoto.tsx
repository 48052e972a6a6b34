/** *Add photo*: the camera opens, the picture is scaled and shown; it leaves with the report it belongs to. */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { type NewPhoto, NoPicture, photoOf } from "../../app/photoMaking";
import { Button, NoticeLine, RefusalPanel } from "../parts";
import { PhotoInput } from "./PhotoInput";

function useUrl(photo: NewPhoto | null): string | null {
  const [url, setUrl] = useState<string | null>(null);
  useEffect(() => {
    if (!photo) return setUrl(null);
    const made = URL.createObjectURL(new Blob([photo.bytes], { type: photo.kind }));
    setUrl(made);
    return () => URL.revokeObjectURL(made);
  }, [photo]);
  return url;
}

export function AddPhoto(props: {
  photo: NewPhoto | null;
  onPhoto: (photo: NewPhoto | null) => void;
}): JSX.Element {
  const [busy, setBusy] = useState(false);
  const [wrong, setWrong] = useState(false);
  const url = useUrl(props.photo);

  async function take(file: File): Promise<void> {
    setBusy(true);
    setWrong(false);
    try {
      props.onPhoto(await photoOf(file));
    } catch (why) {
      if (!(why instanceof NoPicture)) throw why;
      setWrong(true);
    } finally {
      setBusy(false);
    }
  }

  return (
    <div class="stack">
      {url && (
        <figure class="photo">
          <img src={url} alt="As it will be sent" />
          <figcaption class="t-dim">
            Made smaller, and where it was taken is left out. Keep faces out where nobody asked for them.
          </figcaption>
        </figure>
      )}
      {wrong && (
        <RefusalPanel
          sentence="This phone can't read that file as a picture."
          remedy="Take a photo with the camera."
        />
      )}
      {busy && <NoticeLine>Making it smaller</NoticeLine>}
      {props.photo ? (
        <Button label="Leave the photo out" size={48} kind="quiet" onPress={() => props.onPhoto(null)} />
      ) : (
        <PhotoInput label="Add photo" disabled={busy} onFile={(file) => void take(file)} />
      )}
    </div>
  );
}
