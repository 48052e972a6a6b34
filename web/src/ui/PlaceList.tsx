import type { JSX } from "preact";

export interface PlaceLine {
  key: string;
  word: string;
  href: string;
  second?: string;
}

/** Places as a list of 56 px lines. */
export function PlaceList({ places }: { places: readonly PlaceLine[] }): JSX.Element {
  return (
    <ul class="place-list">
      {places.map((place) => (
        <li key={place.key}>
          <a class="place-line" href={place.href}>
            <span class="place-word">{place.word}</span>
            {place.second && <span class="place-second">{place.second}</span>}
          </a>
        </li>
      ))}
    </ul>
  );
}
