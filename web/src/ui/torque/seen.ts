/** A bolt group as this person sees it: the prepared answer with the readings that are still on this phone laid over. */

import { insideWindow } from "../../app/decimals";
import { rows } from "../../app/mirror";
import { pending } from "../../app/outbox";
import type { components } from "../../wire/schema";
import type { DrawnFastener, FastenerState } from "../drawings";
import { unitWord } from "../words/units";

export type TorqueView = components["schemas"]["TorqueView"];
export type WrenchFor = components["schemas"]["WrenchFor"];
export type PassOut = components["schemas"]["PassOut"];
export type Pass = components["schemas"]["WrenchPass"];

/** What stands between the torque wrench and the fastener, as typed. */
export interface Setup {
  extension_mm: string;
  extension_angle_deg: string;
  /** Prevailing torque of a locking nut, in `drag_unit`. */
  drag: string;
  drag_unit: string;
}

/** The fields that are filled in, with a point; of a straight extension the angle is nought. */
export function setupFields(setup: Setup | null): Record<string, string> {
  const plain = (typed: string) => typed.trim().replace(",", ".");
  if (!setup) return {};
  return {
    ...(setup.extension_mm.trim()
      ? {
          extension_mm: plain(setup.extension_mm),
          extension_angle_deg: plain(setup.extension_angle_deg) || "0",
        }
      : {}),
    ...(setup.drag.trim() ? { drag: plain(setup.drag) } : {}),
  };
}

/** The query by which the service works out settings and windows with that setup; null: nothing is between. */
export function setupQuery(setup: Setup | null): string | null {
  const fields = setupFields(setup);
  if (Object.keys(fields).length === 0) return null;
  return new URLSearchParams({
    ...fields,
    ...(fields.drag ? { drag_unit: setup?.drag_unit ?? "n_m" } : {}),
  }).toString();
}

export interface Setting {
  wrench: string;
  /** Why it was unfit when it was chosen, by code: what the person knew then is not asked again. */
  unfit: string[];
  /** It was chosen in an early pass: at the whole torque what is wrong with it is asked all the same. */
  for_early?: boolean;
  /** Set value where the person set another one than the nearest mark, for the final pass. */
  own: string | null;
  faces: string | null;
  threads: string | null;
  setup?: Setup | null;
}

interface Brought {
  n: number;
  reading?: string | null;
  angle_deg?: string | null;
}

export interface Seen {
  fasteners: DrawnFastener[];
  pass: number | null; // open pass, counting what is on this phone
  open: number[]; // its bolts that are still to do, in order
  unsent: number;
}

/** The pass that brings the whole torque: the last, unless turns follow. */
export function wholeTorque(view: Pick<TorqueView, "passes">): PassOut | undefined {
  return view.passes.findLast((one) => one.torque);
}

/** "25 N·m, then 90°, then 90°" */
export function targetWords(view: TorqueView): string {
  const { target } = view.spec;
  const turns = view.passes.flatMap(({ turn }) => (turn ? [`then ${turn.angle_deg}°`] : []));
  return [`${target.torque} ${unitWord(target.unit)}`, ...turns].join(", ");
}

export function passOf(wrench: WrenchFor | undefined, passNo: number): Pass | undefined {
  return wrench?.passes?.find((one) => one.pass_no === passNo);
}

/** A pass's figures for reading, to hundredths; what is typed is compared with the exact ones. */
export function rounded(pass: Pass): Pass["rounded"] {
  return pass.rounded ?? pass; // an answer kept from before has the exact ones only
}

/** What to set on the torque wrench for a pass: the person's own value, the nearest mark, or the target. */
export function setValue(wrench: WrenchFor, passNo: number, whole: number, own: string | null): string {
  const pass = passOf(wrench, passNo);
  if (own && passNo === whole) return own;
  return pass?.nearest_mark ?? (pass ? rounded(pass).target : "");
}

interface Stands {
  state: string;
  words: string | undefined;
  lacks: (passNo: number) => boolean;
}

/**
 * How far each bolt is. The mirrored rows say it: they take in a reading in the moment it leaves this phone, while the
 * prepared answer comes a little later, or not at all when the connection goes just then; a bolt that was done would
 * light up again meanwhile.
 */
function standing(view: TorqueView): Map<number, Stands> {
  const last = view.passes.length;
  const row = rows("group").get(view.group);
  const readings = rows("reading");
  return new Map(
    view.bolts.map((bolt): [number, Stands] => {
      const now = row?.bolts.find((one) => one.n === bolt.n);
      if (!now) {
        const words = !bolt.value
          ? undefined
          : bolt.unit === "deg"
            ? `turned ${bolt.value}°`
            : said(bolt.value, bolt.unit ?? "", bolt.clicked ?? false);
        const lacks = (n: number) =>
          view.passes.some((one) => one.pass_no === n && one.open_bolts.includes(bolt.n));
        return [bolt.n, { state: bolt.state, words, lacks }];
      }
      const passes = now.passes ?? {};
      const reading = readings.get(passes[Math.max(0, ...Object.keys(passes).map(Number))] ?? "");
      return [
        bolt.n,
        {
          state: now.outside
            ? "outside"
            : now.final
              ? "done"
              : now.snug
                ? "snug"
                : now.run_in
                  ? "run_in"
                  : "to_do",
          words: reading && readingWords(reading),
          lacks: (n) => (n === last ? !now.final : passes[n] === undefined),
        },
      ];
    }),
  );
}

function said(value: string, unit: string, clicked: boolean): string {
  return `${clicked ? "clicked at " : ""}${value} ${unitWord(unit)}`;
}

interface Typed {
  value?: string | null | undefined;
  set_value?: string | null | undefined;
  unit?: string | null | undefined;
  angle_deg?: string | null | undefined;
}

/** "clicked at 44 N·m", "44.5 N·m", "turned 90°" */
export function readingWords({ value, set_value, unit, angle_deg }: Typed): string {
  const torque = value ?? set_value;
  return [
    ...(torque ? [said(torque, unit ?? "", !value)] : []),
    ...(angle_deg ? [`turned ${angle_deg}°`] : []),
  ].join(", ");
}

/** Readings on this phone count here as the service will count them, by the windows it prepared. */
export function seeGroup(view: TorqueView): Seen {
  const kept = new Map<number, Map<number, { inside: boolean; words: string }>>();
  const unsent = pending("torque.read", { group: view.group });
  for (const one of unsent) {
    const body = one.envelope.body as {
      pass_no: number;
      wrench?: string;
      set_value?: string;
      unit?: string;
      bolts: Brought[];
    };
    const asks = view.passes.find((pass) => pass.pass_no === body.pass_no);
    const pass = passOf(
      view.wrenches.find((wrench) => wrench.wrench === body.wrench),
      body.pass_no,
    );
    for (const bolt of body.bolts) {
      const value = bolt.reading ?? body.set_value;
      const torque = !asks?.torque || (pass?.fit && value && insideWindow(value, pass.low, pass.high));
      const turned =
        !asks?.turn || (bolt.angle_deg && insideWindow(bolt.angle_deg, asks.turn.low, asks.turn.high));
      const inside = Boolean(asks && torque && turned);
      const words = readingWords({ ...body, value: bolt.reading, angle_deg: bolt.angle_deg });
      const passes = kept.get(body.pass_no) ?? new Map();
      passes.set(bolt.n, { inside, words });
      kept.set(body.pass_no, passes);
    }
  }
  let pass: number | null = null;
  let open: number[] = [];
  const stands = standing(view);
  const order = [...new Set([...view.order, ...view.bolts.map((bolt) => bolt.n)])];
  for (const one of view.passes) {
    const here = kept.get(one.pass_no);
    open = order.filter((n) => stands.get(n)?.lacks(one.pass_no) && !here?.get(n)?.inside);
    if (open.length > 0) {
      pass = one.pass_no;
      break;
    }
  }
  const next = open[0];
  const last = view.passes.length;
  const fasteners = view.bolts.map((bolt): DrawnFastener => {
    const here = pass === null ? undefined : kept.get(pass)?.get(bolt.n);
    const final = kept.get(last)?.get(bolt.n);
    const sent = stands.get(bolt.n);
    let state: FastenerState = "to_do";
    if (sent?.state === "done") state = "done";
    else if (final?.inside || (here?.inside && pass !== null)) state = "kept";
    else if (here || sent?.state === "outside") state = "outside";
    else if (sent?.state === "run_in" || sent?.state === "snug") state = "run_in";
    else if (pass !== null && !open.includes(bolt.n)) state = "done";
    if (bolt.n === next && state !== "done" && state !== "kept")
      state = state === "outside" ? "outside" : "next";
    return {
      number: bolt.n,
      x: Number(bolt.x),
      y: Number(bolt.y),
      where: bolt.where ?? `position ${bolt.n}`,
      state,
      reading: here?.words ?? final?.words ?? sent?.words,
    };
  });
  return { fasteners, pass, open, unsent: unsent.length };
}
