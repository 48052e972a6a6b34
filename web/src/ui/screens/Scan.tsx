/** *Scan a label*: which bag, which task is this? By the camera, by a photo of the label, or by its number. */

import type { JSX } from "preact";
import { useCallback, useState } from "preact/hooks";
import { rows } from "../../app/mirror";
import { NoPicture, pictureOf } from "../../app/photoMaking";
import { go } from "../go";
import { Button, MainButton, NoticeLine, RefusalPanel, TextField } from "../parts";
import { PhotoInput } from "../photo/PhotoInput";
import { Screen } from "../Screen";
import { canWatch, LiveScan } from "../scan/LiveScan";
import { placeOf } from "../scan/label";
import { reader } from "../scan/reading";

const NOT_OURS = "This is no label of a bag or a task of Yokemate.";
const NO_CODE = "No code was found in that photo.";

const bare = (id: string): string => id.toLowerCase().replace(/^[a-z]*[-_.]?0*(?=\d)/, "");

/** The bag or task that is called so: T101, bag-07, or a bag's number alone. */
function placeTyped(typed: string): string | null {
  const wanted = typed.trim().toLowerCase();
  const task = [...rows("task").keys()].find((id) => id.toLowerCase() === wanted);
  if (task) return `/tasks/${task}`;
  const bags = rows("build").get("build")?.bags ?? [];
  const bag = bags.find((one) => one.id.toLowerCase() === wanted || bare(one.id) === bare(wanted));
  return bag ? `/bags/${bag.id}` : null;
}

export default function Scan(): JSX.Element {
  const [watching, setWatching] = useState(canWatch());
  const [wrong, setWrong] = useState<string | null>(null);
  const [number, setNumber] = useState("");

  const found = useCallback((text: string) => {
    const place = placeOf(text);
    if (place) go(place, { replace: true });
    else setWrong(NOT_OURS);
  }, []);
  const none = useCallback(() => setWatching(false), []);

  async function fromPhoto(file: File): Promise<void> {
    setWrong(null);
    try {
      const [read, picture] = await Promise.all([reader(), pictureOf(file)]);
      const text = read(picture);
      if (text === null) setWrong(NO_CODE);
      else found(text);
    } catch (why) {
      if (!(why instanceof NoPicture)) throw why;
      setWrong("This phone can't read that file as a picture.");
    }
  }

  function fromNumber(): void {
    const place = placeTyped(number);
    if (place) go(place, { replace: true });
    else setWrong(`No bag and no task is called ${number.trim()}.`);
  }

  return (
    <Screen title="Scan a label" place="scan">
      <div class="stack">
        {watching ? (
          <>
            <LiveScan onText={found} onNone={none} />
            <p>Hold the label into the picture. It opens by itself.</p>
          </>
        ) : (
          <NoticeLine>No live camera here. A photo of the label does as well, or its number.</NoticeLine>
        )}
        {wrong && <RefusalPanel sentence={wrong} remedy="Nearer, in good light; or type its number." />}
        <PhotoInput label="Photo of the label" onFile={(file) => void fromPhoto(file)} />
        <TextField
          label="Or its number"
          help="such as 24, or T101"
          value={number}
          onType={setNumber}
          onEnter={fromNumber}
        />
        <MainButton
          label="Open it"
          blocked={number.trim() ? undefined : "type the number first"}
          onPress={fromNumber}
        />
        <Button label="Labels to print" kind="quiet" onPress={() => go("/labels")} />
      </div>
    </Screen>
  );
}
