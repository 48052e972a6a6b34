/** *Share*: the address with the inputs, to somebody else's phone. */

import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { Button, Field } from "../parts";
import { type Passed, pass } from "./share";

const SAID: Record<Passed, string> = {
  shared: "Handed on.",
  left: "",
  copied: "Copied. Paste it into a message.",
  by_hand: "This phone can't copy by itself here: the link is marked, copy it by hand.",
};

export function ShareLink({ link, title }: { link: string; title: string }): JSX.Element {
  const [passed, setPassed] = useState<Passed>("left");
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => setPassed("left"), [link]);
  useEffect(() => {
    if (passed === "by_hand") field.current?.select();
  }, [passed]);
  return (
    <div class="stack">
      <Button
        label="Share the link"
        onPress={async () => {
          const phone = { share: navigator.share?.bind(navigator), clipboard: navigator.clipboard };
          setPassed(await pass(link, title, phone));
        }}
      />
      <p role="status">{SAID[passed]}</p>
      {passed === "by_hand" && (
        <Field label="The link, with the inputs">
          {({ id }) => (
            <input
              id={id}
              ref={field}
              class="text-input"
              readOnly
              value={link}
              onFocus={(e) => e.currentTarget.select()}
            />
          )}
        </Field>
      )}
    </div>
  );
}
