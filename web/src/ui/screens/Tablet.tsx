/** The shared garage tablet: icon, then PIN. Signs out after a minute (the service does it; this shows it). */

import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { start } from "../../app/session";
import { Button, MainButton, PinPad, RefusalPanel } from "../parts";
import { usePost } from "../usePost";

interface Face {
  person: string;
  name: string;
  icon: string | null;
}

const AGAIN_MS = 5_000;

export default function Tablet(): JSX.Element {
  const [faces, setFaces] = useState<Face[]>([]);
  const [who, setWho] = useState<Face | null>(null);
  const [pin, setPin] = useState("");
  const [again, setAgain] = useState(0);
  const post = usePost();
  useEffect(() => {
    void post.send<Face[]>("GET", "/api/tablet/people").then((answer) => answer && setFaces(answer));
  }, [again]);
  // Without a connection no PIN can be tried: it is asked again by itself, until there is one.
  useEffect(() => {
    if (!post.problem || who) return undefined;
    const timer = setTimeout(() => setAgain((count) => count + 1), AGAIN_MS);
    return () => clearTimeout(timer);
  }, [post.problem, who]);
  /** Nobody finds what the one before typed, or was told. */
  function somebodyElse(): void {
    setWho(null);
    setPin("");
    post.clear();
  }
  async function signIn(person: string): Promise<void> {
    if ((await post.send("POST", "/api/tablet/sign-in", { person, pin })) !== null) await start();
    setPin("");
  }
  return (
    <main id="main" class="stack one-question">
      <h1>{who ? `${who.name}: your PIN` : "Who are you?"}</h1>
      {post.problem && <RefusalPanel sentence={post.problem.detail} remedy={post.problem.way_on} />}
      {who ? (
        <div class="stack">
          <PinPad label="PIN" value={pin} onType={setPin} onEnter={() => void signIn(who.person)} />
          <MainButton
            label="Sign in"
            blocked={pin ? undefined : "type the PIN"}
            onPress={() => void signIn(who.person)}
          />
          <Button label="Somebody else" kind="quiet" onPress={somebodyElse} />
        </div>
      ) : (
        <ul class="pick-list">
          {faces.map((face) => (
            <li key={face.person}>
              <button type="button" class="pick" onClick={() => setWho(face)}>
                <span class="pick-name">
                  {face.icon ? `${face.icon} ` : ""}
                  {face.name}
                </span>
              </button>
            </li>
          ))}
        </ul>
      )}
    </main>
  );
}
