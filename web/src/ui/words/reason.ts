/** A prepared reason with names and times filled in: the service knows people by ids only. */

import { shortNameOf } from "../../app/session";
import type { components } from "../../wire/schema";
import { moment } from "./times";

type Reason = components["schemas"]["Reason"];

/** The name, also for whoever reads it: "Bram is under the car", never "you is". */
function named(person: unknown): string {
  return shortNameOf(String(person));
}

function filled(template: string, params: Record<string, unknown>): string {
  return template.replace(/\{(\w+)\}/g, (whole, name: string) => {
    const value = params[name];
    if (value === undefined || value === null) return name.endsWith("person") ? "somebody" : whole;
    if (name.endsWith("_person") || name === "person") return named(value);
    if (name.endsWith("_people") && Array.isArray(value)) return value.map(named).join(", ") || "the lead";
    if (name.endsWith("_ms")) return moment(Number(value));
    return String(value);
  });
}

/** What is so, and what to do then. */
export interface TwoParts {
  sentence: string;
  remedy: string;
}

export function reasonParts(reason: Reason): TwoParts {
  const params = (reason.params ?? {}) as Record<string, unknown>;
  return { sentence: filled(reason.says, params), remedy: filled(reason.way_on, params) };
}

export function reasonWords(reason: Reason | null | undefined): string {
  if (!reason) return "";
  const { sentence, remedy } = reasonParts(reason);
  return [sentence, remedy].filter(Boolean).join(" ");
}

export { filled };
