/** The sling of each calculation that has one: its own angle, its own words on the legs. */

import type { JSX } from "preact";
import { KG, MM, SlingLegs, said } from "../drawings";
import { figure } from "./Answer";
import type { Worked } from "./Picture";
import { number, type Parts, word } from "./read";

const DEG = Math.PI / 180;
/** An amount in the unit that the answer is wanted in. */
type Words = (value: number) => string;

export function SlingPicture({ worked }: { worked: Worked }): JSX.Element | null {
  const { inputs } = worked;
  const kg: Words = (value) => said(value, worked.drawn_in.kg ?? KG);
  const mm: Words = (value) => said(value, worked.drawn_in.mm ?? MM);
  if ("near_mm" in inputs) return <Unequal inputs={inputs} legs={worked.drawn as Parts} kg={kg} />;
  if ("along_leg_mm" in inputs) return <ByRule inputs={inputs} factor={number(worked.drawn)} mm={mm} />;
  if ("vertical_deg" in inputs) return <Rated inputs={inputs} limit_kg={number(worked.drawn)} kg={kg} />;
  return <Even inputs={inputs} leg_kg={number(worked.drawn)} kg={kg} />;
}

/** Both legs alike, at an angle to the level. */
function even(angle_deg: number): { near: number; far: number; rise: number } {
  const reach = Math.cos(angle_deg * DEG);
  return { near: reach, far: reach, rise: Math.sin(angle_deg * DEG) };
}

function Even({ inputs, leg_kg, kg }: { inputs: Parts; leg_kg: number; kg: Words }): JSX.Element {
  const angle = `${figure(number(inputs.angle_deg))}°`;
  const legs = number(inputs.legs);
  const fitted = legs === 1 ? "One leg, straight down." : `${legs} legs fitted, drawn from the side.`;
  return (
    <SlingLegs
      title={`Sling at ${angle} to the horizontal`}
      {...even(legs === 1 ? 90 : number(inputs.angle_deg))}
      angleTo="horizontal"
      near_angle={angle}
      far_angle={angle}
      near_words={kg(leg_kg)}
      far_words={kg(leg_kg)}
      load={kg(number(inputs.load_kg))}
      facts={[
        `Load ${kg(number(inputs.load_kg))}.`,
        fitted,
        `Each leg that counts: ${kg(leg_kg)}, ${angle} to the horizontal.`,
      ]}
    />
  );
}

function Unequal({ inputs, legs, kg }: { inputs: Parts; legs: Parts; kg: Words }): JSX.Element {
  const degrees = (value: unknown) => `${Math.round(number(value) * 10) / 10}°`;
  return (
    <SlingLegs
      title="Two unequal legs, angles to the horizontal"
      near={number(inputs.near_mm)}
      far={number(inputs.far_mm)}
      rise={number(inputs.rise_mm)}
      angleTo="horizontal"
      near_angle={degrees(legs.near_deg)}
      far_angle={degrees(legs.far_deg)}
      near_words={kg(number(legs.near_kg))}
      far_words={kg(number(legs.far_kg))}
      load={kg(number(inputs.load_kg))}
      facts={[
        `Load ${kg(number(inputs.load_kg))}.`,
        `Near leg: ${kg(number(legs.near_kg))}, ${degrees(legs.near_deg)} to the horizontal.`,
        `Far leg: ${kg(number(legs.far_kg))}, ${degrees(legs.far_deg)} to the horizontal.`,
      ]}
    />
  );
}

function ByRule({ inputs, factor, mm }: { inputs: Parts; factor: number; mm: Words }): JSX.Element {
  const along = number(inputs.along_leg_mm);
  const rise = number(inputs.rise_mm);
  const angle_deg = Math.asin(rise / along) / DEG;
  const angle = `${Math.round(angle_deg * 10) / 10}°`;
  return (
    <SlingLegs
      title={`Sling at ${angle} to the horizontal, by the rule`}
      {...even(angle_deg)}
      angleTo="horizontal"
      near_angle={angle}
      far_angle={angle}
      near_words={`× ${figure(factor)}`}
      far_words={`× ${figure(factor)}`}
      load="load"
      facts={[
        `${mm(along)} along the leg rise ${mm(rise)}: ${angle} to the horizontal.`,
        `Each leg: its straight share × ${figure(factor)}.`,
      ]}
    />
  );
}

function Rated({ inputs, limit_kg, kg }: { inputs: Parts; limit_kg: number; kg: Words }): JSX.Element | null {
  const use = word(inputs.use);
  if (!use.includes("legs")) return null; // choked, basket, endless: no angle of legs to show
  const vertical = number(inputs.vertical_deg);
  return (
    <SlingLegs
      title={`Sling of ${use}, ${figure(vertical)}° to the vertical`}
      {...even(90 - vertical)}
      angleTo="vertical"
      near_angle={`${figure(vertical)}°`}
      far_angle={`${figure(vertical)}°`}
      near_words=""
      far_words=""
      load={`at most ${kg(limit_kg)}`}
      facts={[
        `One straight leg is marked ${kg(number(inputs.rated_kg))}.`,
        `${use}, ${figure(vertical)}° to the vertical: at most ${kg(limit_kg)}.`,
      ]}
    />
  );
}
