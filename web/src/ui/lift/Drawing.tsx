/** The load from above, filled from the prepared answer. */

import type { JSX } from "preact";
import { initialsOf, me } from "../../app/session";
import type { components } from "../../wire/schema";
import { LiftFromAbove } from "../drawings";

export type LiftView = components["schemas"]["LiftView"];

const number = (text: string | null | undefined): number | undefined =>
  text === null || text === undefined ? undefined : Number(text);

export function pathWords(view: LiftView): string | undefined {
  const path = view.path;
  if (!path) return undefined;
  const steps = path.steps ? `, ${path.steps === 1 ? "one step" : `${path.steps} steps`}` : "";
  const doors = path.doors ? `, ${path.doors === 1 ? "one door" : `${path.doors} doors`}` : "";
  return `${path.length_m} m${steps}${doors}`;
}

export function LiftDrawing({ view }: { view: LiftView }): JSX.Element {
  const { load } = view;
  const holder = (place: string) => {
    const person = view.places.find((one) => one.place === place)?.person;
    return person ? { initials: initialsOf(person), mine: person === me.value?.person } : undefined;
  };
  return (
    <LiftFromAbove
      load={`${view.title}${load.mass_kg ? `, ${load.mass_kg} kg` : ", mass not known"}`}
      outline_mm={load.outline_mm.map(([x, y]) => [Number(x), Number(y)] as const)}
      supports={view.supports.map((one) => ({
        id: one.id,
        say: one.say,
        kind: one.kind,
        x_mm: Number(one.x_mm),
        y_mm: Number(one.y_mm),
        nominal_kg: number(one.nominal_kg),
        worst_kg: number(one.worst_kg),
        rated_kg: number(one.rated_kg),
        initials: one.person ? initialsOf(one.person) : undefined,
        mine: one.person === me.value?.person,
      }))}
      cg={
        load.cg_x_mm !== null && load.cg_y_mm !== null
          ? {
              x_mm: Number(load.cg_x_mm),
              y_mm: Number(load.cg_y_mm),
              plus_minus_mm: Number(load.cg_plus_minus_mm),
            }
          : undefined
      }
      caller={holder("caller")}
      lookout={holder("lookout")}
      guides={view.places
        .filter((one) => one.kind === "guide" && one.person)
        .map((one) => ({ initials: initialsOf(one.person), mine: one.mine }))}
      path={pathWords(view)}
    />
  );
}
