/**
 * The live stream of one build: each message is a head number, no data; what is lacking is fetched by an exchange.
 * One stream per visible page; it is closed while the page is hidden (browsers allow few connections per address).
 */

import { exchange } from "./exchange";
import { heard, silent } from "./link";

const AGAIN_MS = 15_000;

export interface Live {
  stop(): void;
  wake(): void;
}

/** Keep a build live. `onHead` hears every new head number; `onShutOut` is called when the service says no. */
export function live(
  build: string,
  onHead: (number: number) => void,
  onShutOut: (why: unknown) => void,
  onBeside: () => void = () => {},
): Live {
  let source: EventSource | undefined;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let stopped = false;
  let running = false;
  let again = false;

  async function wake(): Promise<void> {
    if (stopped) return;
    if (running) {
      again = true;
      return;
    }
    running = true;
    clearTimeout(timer);
    try {
      do {
        again = false;
        await exchange(build);
      } while (again && !stopped);
    } catch (why) {
      if (!stopped) onShutOut(why);
    } finally {
      running = false;
      timer = setTimeout(() => void wake(), AGAIN_MS);
    }
  }

  function open(): void {
    if (stopped || source || document.visibilityState === "hidden") return;
    source = new EventSource(`/api/builds/${build}/events`);
    source.onopen = () => {
      heard();
      void wake();
    };
    source.onmessage = (message) => {
      heard();
      const number = Number(message.lastEventId);
      if (Number.isFinite(number)) onHead(number);
      void wake();
    };
    // Something outside the ledger changed that prepared answers show, such as somebody's hours.
    source.addEventListener("beside", () => {
      heard();
      onBeside();
    });
    source.onerror = () => {
      silent();
      if (source?.readyState === EventSource.CLOSED) {
        source = undefined;
        setTimeout(open, 2_000);
      }
    };
  }

  function seen(): void {
    if (document.visibilityState === "hidden") {
      source?.close();
      source = undefined;
    } else {
      open();
      void wake();
    }
  }

  const woken = () => void wake();
  document.addEventListener("visibilitychange", seen);
  addEventListener("online", woken);
  open();
  void wake();
  return {
    wake: woken,
    stop() {
      stopped = true;
      source?.close();
      clearTimeout(timer);
      document.removeEventListener("visibilitychange", seen);
      removeEventListener("online", woken);
    },
  };
}
