/** The camera's picture, read several times a second until a label is in it. */

import type { JSX } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { reader } from "./reading";

const EVERY_MS = 180;

/** Browsers give a camera to pages that came over HTTPS only. */
export const canWatch = (): boolean => Boolean(navigator.mediaDevices?.getUserMedia);

export function LiveScan(props: {
  onText: (text: string) => void;
  /** The camera was not given, or there is none. */
  onNone: () => void;
}): JSX.Element {
  const video = useRef<HTMLVideoElement>(null);
  const { onText, onNone } = props;
  useEffect(() => {
    let stream: MediaStream | undefined;
    let timer: ReturnType<typeof setTimeout> | undefined;
    let ended = false;
    async function watch(): Promise<void> {
      const read = await reader(); // first: a camera that was given must never stay on for want of the decoder
      const given = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
      stream = given;
      const shown = video.current;
      if (ended || !shown) return stop();
      shown.srcObject = given;
      await shown.play();
      const look = () => {
        if (ended) return;
        const text = read(shown);
        if (text !== null) onText(text);
        timer = setTimeout(look, EVERY_MS);
      };
      look();
    }
    function stop(): void {
      ended = true;
      clearTimeout(timer);
      for (const track of stream?.getTracks() ?? []) track.stop();
    }
    watch().catch(() => {
      if (!ended) onNone();
      stop();
    });
    return stop;
  }, [onText, onNone]);
  return <video ref={video} class="scan-picture" muted playsInline aria-label="What the camera sees" />;
}
