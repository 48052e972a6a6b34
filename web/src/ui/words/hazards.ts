import type { PictogramKind } from "../drawings/Pictogram";
import type { SignalWord } from "../parts/SignalPanel";

/** The usual caution for one kind of hazard, said when the plan says nothing of its own. */
export interface HazardWords {
  word: SignalWord;
  /** The words on a flag: "under the car". */
  short: string;
  /** What it is, what it does, how not to. */
  what: string;
  does: string;
  how: string;
  /** Who has the last word besides the kit's manual. */
  deferTo: string;
  pictograms: readonly PictogramKind[];
}

/*
 * The signal words follow ANSI Z535: DANGER will, WARNING could cause death or serious injury, CAUTION could
 * cause a lesser one, NOTICE no injury. Each caution is common practice in our own words; the kit's manual,
 * local codes and licensed practice always come first.
 */
const MANUAL = "the kit's manual";

export const HAZARDS = {
  under_car: {
    word: "danger",
    short: "under the car",
    what: "Somebody is under the car.",
    does: "A car that comes down kills. A jack alone never counts.",
    how: "Stands on level concrete, wheels chocked, shaken hard before any part of you goes under.",
    deferTo: `${MANUAL} and the stand maker's rating`,
    pictograms: ["warn_car_above", "do_two_people"],
  },
  jacking: {
    word: "danger",
    short: "jacking",
    what: "The car goes up or down.",
    does: "It rolls or slips off the jack and crushes.",
    how: "Nobody under it, wheels chocked, jack on the maker's points, stands before hands.",
    deferTo: `${MANUAL} and the jack's maker`,
    pictograms: ["warn_car_above", "dont_beneath"],
  },
  fuel_open: {
    word: "danger",
    short: "fuel open",
    what: "Fuel is open here.",
    does: "Vapour runs along the floor and catches from any spark, lamp or hot part.",
    how: "Out of doors only, battery off, extinguisher in hand, a second adult watching.",
    deferTo: "the local fire code",
    pictograms: ["warn_fire", "dont_flame", "do_extinguisher"],
  },
  sparks: {
    word: "danger",
    short: "sparks",
    what: "This work throws sparks.",
    does: "They fly further than they look and light fuel, rags and looms.",
    how: "Fuel closed and away, loom covered, extinguisher beside you, look again after half an hour.",
    deferTo: "the local fire code",
    pictograms: ["warn_fire", "do_goggles", "do_extinguisher"],
  },
  heat: {
    word: "warning",
    short: "hot work",
    what: "A flame or a heat gun is used.",
    does: "It burns skin and sets fire to what lies behind the part.",
    how: "Fuel closed and away, look behind the part first, extinguisher beside you.",
    deferTo: "the local fire code",
    pictograms: ["warn_hot", "warn_fire", "do_extinguisher"],
  },
  exhaust_co: {
    word: "danger",
    short: "exhaust gas",
    what: "The engine runs.",
    does: "Carbon monoxide can't be smelt and kills within minutes in a closed place.",
    how: "Never in a closed or attached garage; an open door is not enough. Out of doors or extracted, alarm on.",
    deferTo: "the alarm's maker and the health authority",
    pictograms: ["warn_gas", "dont_run_indoors", "do_outdoors"],
  },
  springs: {
    word: "danger",
    short: "spring under load",
    what: "A spring is held under load.",
    does: "It carries the car's weight; let go, it flies.",
    how: "Inspect the tool, hook both sides, face away, nobody under 18 near it.",
    deferTo: "the spring tool's maker",
    pictograms: ["warn_spring", "do_goggles", "dont_minors"],
  },
  cranking: {
    word: "warning",
    short: "cranking",
    what: "The engine is turned over.",
    does: "Belts, fan and wheels can move, and it may fire.",
    how: "Out of gear, handbrake on, wheels chocked, nobody in front or under, one voice gives the word.",
    deferTo: MANUAL,
    pictograms: ["warn_rotating", "dont_hands"],
  },
  engine_running: {
    word: "warning",
    short: "engine running",
    what: "The engine is running.",
    does: "Fans start alone; belts take sleeves, hair and lanyards; the exhaust burns.",
    how: "Hands out, hair and sleeves tied, one hand near the isolator.",
    deferTo: MANUAL,
    pictograms: ["warn_rotating", "warn_hot", "dont_hands"],
  },
  hands_in: {
    word: "warning",
    short: "hands in",
    what: "Somebody has their hands in.",
    does: "Whatever is started now takes fingers.",
    how: "Isolator off, key in the pocket of whoever reaches in.",
    deferTo: MANUAL,
    pictograms: ["warn_rotating", "do_disconnect"],
  },
  rotating: {
    word: "warning",
    short: "turning parts",
    what: "Parts turn here.",
    does: "Fans and belts take sleeves, hair and lanyards; a fan can start alone.",
    how: "Tie it back, stand clear, isolator off before you reach in.",
    deferTo: MANUAL,
    pictograms: ["warn_rotating", "dont_hands"],
  },
  lift: {
    word: "warning",
    short: "lift",
    what: "A load is lifted.",
    does: "It slips, tips or takes a back with it.",
    how: "One caller, clear path, gloves on, nobody under the load or between load and frame.",
    deferTo: `${MANUAL} and the marking on the gear`,
    pictograms: ["warn_load", "dont_beneath", "do_gloves"],
  },
  wheels_off: {
    word: "warning",
    short: "wheels off",
    what: "Wheels are off.",
    does: "What stands on stands alone can be pushed off them.",
    how: "Don't lean or pull hard on it; the wheel lies under the sill while you work.",
    deferTo: MANUAL,
    pictograms: ["warn_car_above"],
  },
  live_battery: {
    word: "warning",
    short: "live battery",
    what: "The battery is connected.",
    does: "A spanner across it burns and can burst it; charging gas explodes.",
    how: "Earth lead off first and on last, rings off, eyes covered, no spark while charging.",
    deferTo: "the battery's maker",
    pictograms: ["warn_current", "do_goggles", "do_disconnect"],
  },
  brake_fluid: {
    word: "warning",
    short: "brake fluid",
    what: "Brake fluid is open.",
    does: "It can blind, and it strips paint.",
    how: "Goggles on, rinse at once with plenty of water, wings covered.",
    deferTo: "the label of the fluid",
    pictograms: ["warn_harmful", "do_goggles", "do_gloves"],
  },
  hot_coolant: {
    word: "warning",
    short: "hot coolant",
    what: "The coolant may be hot and under pressure.",
    does: "It scalds face and hands when the cap comes off.",
    how: "The cap stays on until the top hose can be squeezed cold.",
    deferTo: MANUAL,
    pictograms: ["warn_hot", "do_goggles"],
  },
  grind_drill: {
    word: "warning",
    short: "grinding, drilling",
    what: "Grinding or drilling.",
    does: "Chips and discs fly into eyes; sparks light fuel.",
    how: "Face shield over glasses, sparks away from tank and loom, work clamped, no gloves near a drill.",
    deferTo: "the tool's maker",
    pictograms: ["warn_fire", "do_goggles", "do_hearing"],
  },
  solvent: {
    word: "warning",
    short: "solvent",
    what: "Solvent is used.",
    does: "Its vapour burns, and makes you dizzy before you notice.",
    how: "Doors open, no flame, gloves on, rags into a closed metal bin.",
    deferTo: "the label of the solvent",
    pictograms: ["warn_harmful", "dont_flame", "do_gloves"],
  },
  eye: {
    word: "caution",
    short: "eyes",
    what: "Something may fall or spring into your eyes.",
    does: "Rust, dirt and clips hurt eyes, most of all from below.",
    how: "Glasses on before you look up.",
    deferTo: MANUAL,
    pictograms: ["do_goggles"],
  },
  pinch_crush: {
    word: "caution",
    short: "pinch points",
    what: "Parts close on each other here.",
    does: "Fingers get crushed.",
    how: "Line holes up with a podger, never with a finger. Say it before you push.",
    deferTo: MANUAL,
    pictograms: ["warn_crush"],
  },
  cut_edge: {
    word: "caution",
    short: "cut edges",
    what: "Edges are raw.",
    does: "Panels cut hands and looms.",
    how: "Gloves on for panels until the trim is on.",
    deferTo: MANUAL,
    pictograms: ["warn_edge", "do_gloves"],
  },
  solder: {
    word: "caution",
    short: "soldering",
    what: "Soldering.",
    does: "The iron burns; the fume irritates.",
    how: "Air moving, iron parked in its stand, hands washed before you eat.",
    deferTo: "the label of the solder",
    pictograms: ["warn_hot", "do_wash"],
  },
  noise: {
    word: "caution",
    short: "noise",
    what: "This is loud.",
    does: "It wears hearing away, and nobody hears a call.",
    how: "Ear protection on; agree a hand sign for stop.",
    deferTo: "local rules on noise",
    pictograms: ["do_hearing"],
  },
  paint: {
    word: "notice",
    short: "paint and trim",
    what: "Paint and trim lie open.",
    does: "Belts, watches and buttons scratch them.",
    how: "Cover the wing, take watch and belt off.",
    deferTo: MANUAL,
    pictograms: [],
  },
} as const satisfies Record<string, HazardWords>;

export type HazardKind = keyof typeof HAZARDS;

/** The caution of a kind the plan names; a kind we don't know gets a warning that says just that. */
export function hazardWords(kind: string): HazardWords {
  if (Object.hasOwn(HAZARDS, kind)) return HAZARDS[kind as HazardKind];
  const short = kind.replaceAll("_", " ");
  return {
    word: "warning",
    short,
    what: `The plan names a hazard: ${short}.`,
    does: "Nothing more is known about it here.",
    how: "Read the manual's page and ask the lead before you begin.",
    deferTo: MANUAL,
    pictograms: [],
  };
}
