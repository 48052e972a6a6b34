/** Where the service is found and what a new phone must trust first, as the service says it. */

import { useEffect, useState } from "preact/hooks";
import { call, NoConnection, Refusal } from "../wire/call";
import type { components } from "../wire/schema";

export type Address = components["schemas"]["Address"];

/** Null until it is known; without a connection it stays so. */
export function useAddress(): Address | null {
  const [address, setAddress] = useState<Address | null>(null);
  useEffect(() => {
    call<Address>("GET", "/api/address").then(
      (answer) => setAddress(answer.body),
      (why) => {
        if (!(why instanceof NoConnection || why instanceof Refusal)) throw why;
      },
    );
  }, []);
  return address;
}

/** A sentence for each address that phones were enrolled at and that leads nowhere now. */
export function movedWords(address: Address): string[] {
  return address.moved.map(
    ({ origin, phones }) =>
      `${phones === 1 ? "One phone was" : `${phones} phones were`} enrolled at ${origin}, which does not lead here any more.`,
  );
}
