import type { JSX } from "preact";

export interface Place {
  key: string;
  word: string;
  href: string;
}

export interface BottomBarProps {
  /** Queue, Lifts, Loose ends, Plan, Shed: in that order on every screen. */
  places: readonly Place[];
  /** Where *Everything* leads on very narrow screens or with very large text. */
  everythingHref: string;
  /** Key of the current place. */
  current?: string | undefined;
}

function PlaceLink({ place, current }: { place: Place; current: string | undefined }): JSX.Element {
  return (
    <a href={place.href} aria-current={place.key === current ? "page" : undefined}>
      {place.word}
    </a>
  );
}

/** Words without icons at the bottom of the phone; below 20em just the queue and *Everything*. */
export function BottomBar({ places, everythingHref, current }: BottomBarProps): JSX.Element {
  const first = places[0];
  const elsewhere = current !== undefined && current !== first?.key;
  return (
    <nav class="bottom-bar" aria-label="Places">
      <ul>
        {places.map((place) => (
          <li key={place.key}>
            <PlaceLink place={place} current={current} />
          </li>
        ))}
      </ul>
      <ul class="bottom-bar-few">
        {first !== undefined && (
          <li>
            <PlaceLink place={first} current={current} />
          </li>
        )}
        <li>
          <a href={everythingHref} aria-current={elsewhere ? "true" : undefined}>
            Everything
          </a>
        </li>
      </ul>
    </nav>
  );
}

export interface RailProps {
  places: readonly Place[];
  /** The rooms of the shed, set a little apart. */
  more?: readonly Place[];
  current?: string | undefined;
}

/** All places in words, at the left of a wide screen. */
export function Rail({ places, more = [], current }: RailProps): JSX.Element {
  return (
    <nav aria-label="All places">
      <ul>
        {places.map((place) => (
          <li key={place.key}>
            <PlaceLink place={place} current={current} />
          </li>
        ))}
        {more.map((place, i) => (
          <li key={place.key} class={i === 0 ? "rail-apart" : undefined}>
            <PlaceLink place={place} current={current} />
          </li>
        ))}
      </ul>
    </nav>
  );
}
