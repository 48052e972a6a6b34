/** How this phone looks and sounds, what it lacks on this address, and leaving it. */

import type { JSX } from "preact";
import { me } from "../../app/session";
import { useAddress } from "../address";
import { HomeScreen } from "../HomeScreen";
import { looks, setLooks } from "../looks";
import { PlainNotice } from "../PlainNotice";
import { Button, Choice, NoticeLine, Tick } from "../parts";
import { Screen } from "../Screen";
import { Storage } from "../Storage";
import { usePost } from "../usePost";

export default function ThisPhone(): JSX.Element {
  const post = usePost();
  const address = useAddress();
  const best = address?.addresses[0];
  return (
    <Screen title="This phone" place="this-phone">
      <div class="stack">
        <Choice
          legend="Dark or light"
          row
          chosen={looks.value.theme}
          onChoose={(theme) => setLooks({ theme })}
          options={[
            { key: "dark", word: "Dark" },
            { key: "light", word: "Light" },
          ]}
        />
        <Tick
          word="Left hand"
          second="pairs of buttons are mirrored"
          ticked={looks.value.leftHand}
          onTick={(leftHand) => setLooks({ leftHand })}
        />
        <Tick
          word="Sound for calls"
          second="STOP in a lift always sounds"
          ticked={looks.value.sound}
          onTick={(sound) => setLooks({ sound })}
        />
        <Tick
          word="Vibration"
          ticked={looks.value.vibration}
          onTick={(vibration) => setLooks({ vibration })}
        />
        <HomeScreen />
        <Storage />
        <PlainNotice />
        {best && best !== location.origin && me.value?.mode === "https" && (
          <NoticeLine>
            This phone is enrolled at {location.origin}. The service calls itself {best}: a new phone is best
            enrolled there.
          </NoticeLine>
        )}
        {me.value?.mode === "demo" && (
          <Button
            label="Be somebody else"
            onPress={async () => {
              if ((await post.send("POST", "/api/demo/leave", {})) !== null) location.assign("/");
            }}
          />
        )}
        {me.value && !me.value.device_shared && me.value.mode !== "demo" && (
          <Button
            label="Make this the garage's shared tablet"
            onPress={async () => {
              if ((await post.send("POST", "/api/tablet", { share: true })) !== null) location.assign("/");
            }}
          />
        )}
      </div>
    </Screen>
  );
}
