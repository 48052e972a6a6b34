/** A code for a new phone. Where this garage has an authority of its own, the phone must trust that first: step 1 of 2. */

import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { components } from "../wire/schema";
import { type Address, useAddress } from "./address";
import { Button, MainButton, QrCode } from "./parts";
import { Screen } from "./Screen";
import { moment } from "./words/times";

export type Code = components["schemas"]["CodeMade"];

function TrustFirst({ address, onGoOn }: { address: Address; onGoOn: () => void }): JSX.Element {
  return (
    <div class="stack">
      <p class="t-strong">1 of 2. A new phone must trust this garage first.</p>
      <QrCode svg={address.join_qr_svg ?? ""} label="Join page, where a phone gets what it must trust" />
      <p class="break-anywhere">{address.join_page}</p>
      <p>
        There it is said how, for each kind of phone. While it is installed, the phone shows this fingerprint
        of {address.authority}. Compare them:
      </p>
      <p class="break-anywhere">{address.fingerprint}</p>
      <MainButton label="It trusts this garage: step 2" onPress={onGoOn} />
    </div>
  );
}

export function CodeToScan(props: {
  title: string;
  code: Code;
  again: string;
  onAgain: () => void;
}): JSX.Element {
  const { code } = props;
  const address = useAddress();
  const [trusted, setTrusted] = useState(false);
  const first = address?.join_page && address.join_qr_svg && !trusted;
  return (
    <Screen title={props.title} place="crew">
      {first ? (
        <TrustFirst address={address} onGoOn={() => setTrusted(true)} />
      ) : (
        <div class="stack">
          {trusted && <p class="t-strong">2 of 2. Now this.</p>}
          <QrCode svg={code.qr_svg} label={`Code, works once, until ${moment(code.until_ms)}`} />
          <p class="t-strong">Works once, until {moment(code.until_ms)}.</p>
          <p class="break-anywhere">{code.url}</p>
          {trusted && <Button label="Back to step 1" kind="quiet" onPress={() => setTrusted(false)} />}
          <Button label={props.again} onPress={props.onAgain} />
        </div>
      )}
    </Screen>
  );
}
