/** The picture of a calculation that has one: which, the catalogue says; what is in it, the answer and the inputs as understood. */

import type { JSX } from "preact";
import type { components } from "../../wire/schema";
import { BeltPath, BoltPattern, CutBars, KG, LiftFromAbove, leastDistance, MM, said } from "../drawings";
import { around } from "./around";
import { amounts, number, records, word } from "./read";
import { SlingPicture } from "./SlingPicture";

export type Worked = components["schemas"]["Worked"];
type Name = NonNullable<components["schemas"]["Calculation"]["picture"]>;

const PICTURES: Record<Name, (props: { worked: Worked }) => JSX.Element | null> = {
  bolt_pattern: Pattern,
  lift_from_above: Lift,
  sling: SlingPicture,
  belt: Belt,
  cut_bars: Bars,
};

export function Picture({ name, worked }: { name: Name; worked: Worked }): JSX.Element | null {
  const One = PICTURES[name];
  return <One worked={worked} />;
}

/** Nearer than that, bolts would cover each other: then the order is read, not looked at. */
const APART_PX = 44;

function Pattern({ worked }: { worked: Worked }): JSX.Element | null {
  const places = records(worked.drawn);
  const order = [...places].sort((a, b) => number(a.turn) - number(b.turn)).map((one) => number(one.number));
  const fasteners = places.map((one) => ({
    number: number(one.number),
    x: number(one.x) * 100,
    y: number(one.y) * -100, // y grows downward there, upward in the picture
    where: "",
    state: "to_do" as const,
  }));
  if (leastDistance(fasteners) < APART_PX)
    return <p class="t-dim">Too many bolts for a picture: the order is below.</p>;
  return (
    <BoltPattern
      group={`Order of tightening, ${places.length} bolts`}
      seenFrom="above"
      up="top"
      pass={`Order: ${order.join(", ")}`}
      fasteners={fasteners}
      order={order}
    />
  );
}

/** Places go by their names where all of those fit their circles, else by their numbers in the list. */
const SHORT_NAME = 3;

function Lift({ worked }: { worked: Worked }): JSX.Element {
  const { inputs } = worked;
  const places = records(inputs.supports);
  const short = places.every((place) => word(place.name).length <= SHORT_NAME);
  const shares = records((worked.drawn as { shares?: unknown }).shares);
  const supports = places.map((place, index) => {
    const name = word(place.name);
    const share = shares[index] ?? {};
    return {
      id: String(index),
      say: short ? name : `${index + 1}, ${name}`,
      kind: place.stiff === true ? ("stand" as const) : ("place" as const),
      x_mm: number(place.x_mm),
      y_mm: number(place.y_mm),
      nominal_kg: number(share.nominal_kg),
      worst_kg: number(share.judged_kg),
      initials: short ? name : String(index + 1),
    };
  });
  const mass = worked.drawn_in.kg ?? KG;
  const off = Math.max(number(inputs.cog_plus_minus_x_mm), number(inputs.cog_plus_minus_y_mm));
  return (
    <LiftFromAbove
      load={said(number(inputs.mass_kg), mass)}
      mass={mass}
      length={worked.drawn_in.mm}
      outline_mm={around(supports.map((one) => [one.x_mm, one.y_mm] as const))}
      supports={supports}
      cg={{ x_mm: number(inputs.cog_x_mm), y_mm: number(inputs.cog_y_mm), plus_minus_mm: off }}
    />
  );
}

function Belt({ worked }: { worked: Worked }): JSX.Element {
  const drawn = worked.drawn as { wraps?: unknown; length_mm?: unknown };
  const wraps = records(drawn.wraps);
  const length = worked.drawn_in.mm ?? MM;
  const whole_mm = number(drawn.length_mm);
  return (
    <BeltPath
      title={`Belt round ${wraps.length} pulleys, ${said(length === MM ? Math.round(whole_mm) : whole_mm, length)}`}
      length={length}
      pulleys={records(worked.inputs.pulleys).map((pulley, index) => ({
        name: word(pulley.name),
        x: number(pulley.x_mm),
        y: number(pulley.y_mm),
        radius: number(pulley.radius_mm),
        back: pulley.back === true,
        wrap_deg: number(wraps[index]?.wrap_deg),
        straight_mm: number(wraps[index]?.straight_mm),
        warning: word(wraps[index]?.warning),
      }))}
    />
  );
}

function Bars({ worked }: { worked: Worked }): JSX.Element {
  const drawn = worked.drawn as {
    bars: number;
    longest_first: number;
    cuts: unknown;
    longest_first_cuts: unknown;
  };
  const stock = {
    stock_mm: number(worked.inputs.stock_mm),
    kerf_mm: number(worked.inputs.kerf_mm),
    length: worked.drawn_in.mm,
  };
  const cut = (bars: unknown) =>
    records(bars).map((bar) => ({
      bars: number(bar.bars),
      pieces_mm: amounts(bar.pieces_mm),
      rest_mm: number(bar.offcut_mm),
    }));
  const wastes = drawn.longest_first > drawn.bars;
  return (
    <div class="beside">
      <section class="stack">
        <h3>Fewest: {drawn.bars}</h3>
        <CutBars {...stock} title={`${drawn.bars} bars, the fewest`} bars={cut(drawn.cuts)} />
      </section>
      <section class="stack">
        <h3>Longest piece first: {drawn.longest_first}</h3>
        {wastes ? (
          <CutBars
            {...stock}
            title={`${drawn.longest_first} bars, longest piece first`}
            bars={cut(drawn.longest_first_cuts)}
          />
        ) : (
          <p>Cutting the longest piece that fits takes no more.</p>
        )}
      </section>
    </div>
  );
}
