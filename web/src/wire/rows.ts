/** Kinds of row that phones mirror, by the name the service uses. */

import type { components } from "./schema";

type Schemas = components["schemas"];

export interface RowKinds {
  build: Schemas["Build"];
  member: Schemas["Member"];
  visit: Schemas["Visit"];
  task: Schemas["Task"];
  group: Schemas["Group"];
  reading: Schemas["Reading"];
  check: Schemas["Check"];
  countersign: Schemas["Countersign"];
  torque_wrench: Schemas["TorqueWrench"];
  tool: Schemas["Tool"];
  part: Schemas["Part"];
  lift: Schemas["Lift"];
  loose_end: Schemas["LooseEnd"];
  gate: Schemas["Gate"];
  proposal: Schemas["Proposal"];
  under: Schemas["Under"];
  tag: Schemas["Tag"];
  deviation: Schemas["Deviation"];
  snag: Schemas["Snag"];
  note: Schemas["Note"];
  withdrawal: Schemas["Withdrawal"];
  evidence: Schemas["Evidence"];
}
