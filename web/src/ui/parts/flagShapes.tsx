import type { JSX } from "preact";

/** Every flag has one drawing of its own, on a 24 x 24 field, stroke 3, in the colour of the text. */
export type FlagKind =
  | "danger"
  | "warning"
  | "caution"
  | "hands"
  | "lift"
  | "torque_check"
  | "hold_point"
  | "under_car"
  | "stuck"
  | "waiting"
  | "crossed_out"
  | "on_phone"
  | "not_for_you"
  | "running_low";

/** The order in which flags stand; a hazard always comes first, so it is never the one left out. */
export const FLAG_ORDER: readonly FlagKind[] = [
  "danger",
  "warning",
  "caution",
  "hands",
  "lift",
  "torque_check",
  "hold_point",
  "under_car",
  "stuck",
  "waiting",
  "crossed_out",
  "on_phone",
  "not_for_you",
  "running_low",
];

function bow(centre: number, half: number): JSX.Element {
  return (
    <path
      d={`M${centre - half} 9 V14 A${half} ${half + 1} 0 0 0 ${centre + half} 14 V9`}
      stroke-width="2.5"
    />
  );
}

/** A yoke with n bows hanging from its beam; n from 1 to 4. */
function yoke(bows: number): JSX.Element[] {
  const n = Math.min(4, Math.max(1, bows));
  const step = 24 / n;
  const half = n === 1 ? 5 : n === 2 ? 4 : n === 3 ? 2.6 : 1.8;
  return Array.from({ length: n }, (_, i) => bow(step * (i + 0.5), half));
}

function triangle(): JSX.Element {
  return (
    <>
      <path class="flag-signal-face" d="M12 1.5 L23 21.5 H1 Z" />
      <path class="flag-signal-mark" d="M12 9 V14" />
      <path class="flag-signal-mark" d="M12 18 V18.2" />
    </>
  );
}

/** The strokes of one flag; `people` counts the bows of a yoke. */
export function flagShape(kind: FlagKind, people: number): JSX.Element {
  switch (kind) {
    case "danger":
    case "warning":
    case "caution":
      return triangle();
    case "hands":
      return (
        <>
          <path d="M1.5 7 H22.5" stroke-width="4" />
          {yoke(people)}
        </>
      );
    case "lift":
      return (
        <>
          <rect class="flag-solid" x="6" y="0.5" width="12" height="5" stroke="none" />
          <path d="M1.5 9 H22.5" />
          {yoke(people)}
        </>
      );
    case "torque_check":
      return (
        <>
          <path d="M7 3.5 H15 L19 10.5 L15 17.5 H7 L3 10.5 Z" />
          <path d="M11 10.5 L22.5 22" />
        </>
      );
    case "hold_point":
      return (
        <>
          <path d="M3.5 2 V22 M20.5 2 V22" />
          <path d="M3.5 11 H20.5" stroke-width="5" stroke-linecap="butt" />
        </>
      );
    case "under_car":
      return (
        <>
          <path d="M1.5 6 H22.5" />
          <circle cx="4.5" cy="16.5" r="2.6" class="flag-solid" stroke="none" />
          <path d="M9 17.5 H16 L19 13.5 L22.5 18" />
        </>
      );
    case "stuck":
      return (
        <>
          <circle cx="9.5" cy="12" r="7.5" />
          <path class="flag-solid" d="M15.5 21 L22.5 21 L22.5 11 Z" stroke-width="1.5" />
          <path d="M1.5 21.5 H22.5" stroke-width="2" />
        </>
      );
    case "waiting":
      return (
        <>
          <circle cx="4" cy="12" r="2.7" />
          <circle cx="20" cy="12" r="2.7" />
          <path d="M6.7 12 H9.5 M14.5 12 H17.3" />
        </>
      );
    case "crossed_out":
      return (
        <>
          <path d="M3 9.5 H21 M3 14.5 H21" stroke-width="2" />
          <path d="M5 4 H19 M5 20 H15" stroke-width="2" stroke-dasharray="3 3" />
        </>
      );
    case "on_phone":
      return <path d="M17 3 H2 V21 H17 L21 18 L16.5 15 L21.5 12 L16.5 9 L21 6 Z" stroke-width="2.5" />;
    case "not_for_you":
      return (
        <>
          <path d="M12 2 V8" />
          <circle cx="12" cy="15" r="6.5" stroke-dasharray="0.5 5" />
        </>
      );
    case "running_low":
      return (
        <>
          <path d="M8 6 L5 13 V21.5 H19 V13 L16 6" />
          <path d="M7 4 H17" />
          <path class="flag-solid" d="M6.5 18 H17.5 V20.5 H6.5 Z" stroke="none" />
        </>
      );
  }
}
