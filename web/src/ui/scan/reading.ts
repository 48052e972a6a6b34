/** Reading a code out of a picture. The decoder is loaded when somebody scans, for browsers rarely have one. */

const LONGEST_PX = 960; // enough for a label at arm's length, and quick on an old phone

type Source = HTMLVideoElement | HTMLImageElement;
export type Reader = (source: Source) => string | null;

function sizeOf(source: Source): [number, number] {
  return source instanceof HTMLVideoElement
    ? [source.videoWidth, source.videoHeight]
    : [source.naturalWidth, source.naturalHeight];
}

/** A reader with a canvas of its own. It answers null where it sees no code. */
export async function reader(): Promise<Reader> {
  const { decodeQR } = await import("qr/decode.js");
  const canvas = document.createElement("canvas");
  const drawn = canvas.getContext("2d", { willReadFrequently: true });
  return (source) => {
    const [wide, high] = sizeOf(source);
    if (!drawn || wide === 0 || high === 0) return null;
    const times = Math.min(1, LONGEST_PX / Math.max(wide, high));
    canvas.width = Math.round(wide * times);
    canvas.height = Math.round(high * times);
    drawn.drawImage(source, 0, 0, canvas.width, canvas.height);
    try {
      return decodeQR(drawn.getImageData(0, 0, canvas.width, canvas.height));
    } catch {
      return null; // the decoder throws where there is no code
    }
  };
}
