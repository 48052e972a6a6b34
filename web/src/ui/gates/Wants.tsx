import type { JSX } from "preact";
import { PlaceList } from "../PlaceList";
import { type Want, wantLine } from "./words";

/** One line for each thing that is missing; each leads to where it is put right. */
export function Wants({ wants }: { wants: readonly Want[] }): JSX.Element | null {
  if (wants.length === 0) return null;
  return (
    <PlaceList
      places={wants.map((want) => {
        const { key, words, second, href } = wantLine(want);
        return { key, word: words, href, ...(second ? { second } : {}) };
      })}
    />
  );
}
