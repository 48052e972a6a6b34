/** The few shapes that every exchange is made of. What travels inside them (rows, commands, views) is in `schema.ts`. */

/** A command on its way: what, when on this phone, and what was on the screen (`seen`). */
export interface Envelope {
  id: string;
  kind: string;
  device_ms: number;
  seen?: number;
  for_person?: string;
  after?: string; // id of an earlier command of this phone that this one builds on
  body: Record<string, unknown>;
}

/** RFC 9457 problem details, with the rule and the way on. */
export interface Problem {
  type?: string;
  title: string;
  status: number;
  detail: string;
  code: string;
  rule?: string;
  way_on?: string;
  params?: Record<string, unknown>;
  field?: string;
}

export interface Outcome {
  id: string;
  status: "accepted" | "refused" | "kept_as_evidence";
  entries?: [number, number] | null;
  head?: number;
  problem?: Problem | null;
  notes?: string[];
}

export interface Head {
  number: number;
  digest: string;
}

export interface RowChange {
  kind: string;
  id: string;
  changed_at: number;
  body: Record<string, unknown> | null;
}

export interface SyncAnswer {
  head: Head;
  now_ms?: number; // the service's clock; one of before does not say
  forked: boolean;
  reset: boolean;
  outcomes: Outcome[];
  rows: RowChange[];
}

export interface Me {
  now_ms?: number; // the service's clock
  person: string | null;
  name: string | null;
  device: string | null;
  device_shared: boolean;
  mode: "demo" | "plain" | "https";
  first_run: boolean;
  builds: { id: string; name: string; role: "lead" | "builder" | "helper" | "viewer" }[];
  session_until_ms?: number | null;
}

export interface Person {
  person: string;
  name: string;
  initials: string;
  icon: string | null;
  pin_set: boolean;
  devices: number;
}
