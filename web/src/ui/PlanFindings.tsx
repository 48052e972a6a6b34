/** What looking at a plan file found: faults keep it from being loaded, doubts stop nobody. */

import type { JSX } from "preact";
import type { components } from "../wire/schema";
import { RefusalPanel } from "./parts";

export type Finding = components["schemas"]["Finding"];
const OPEN_AT_MOST = 12;

function One({ found }: { found: Finding }): JSX.Element {
  const place = [found.line ? `Line ${found.line}` : "", found.field].filter(Boolean).join(", ");
  return (
    <li>
      <strong>{place}:</strong> {found.says} {found.remedy}
      {found.source && <span class="place-second"> By: {found.source}</span>}
    </li>
  );
}

function List({ findings }: { findings: Finding[] }): JSX.Element {
  const rest = findings.slice(OPEN_AT_MOST);
  return (
    <>
      <ol class="stack">
        {findings.slice(0, OPEN_AT_MOST).map((one) => (
          <One key={`${one.field}${one.says}`} found={one} />
        ))}
      </ol>
      {rest.length > 0 && (
        <details class="fold">
          <summary>And {rest.length} more</summary>
          <ol class="stack" start={OPEN_AT_MOST + 1}>
            {rest.map((one) => (
              <One key={`${one.field}${one.says}`} found={one} />
            ))}
          </ol>
        </details>
      )}
    </>
  );
}

export const faultsOf = (findings: Finding[]): Finding[] => findings.filter((one) => one.level === "error");

export function PlanFindings({ findings, file }: { findings: Finding[]; file: string }): JSX.Element {
  const faults = faultsOf(findings);
  const doubts = findings.filter((one) => one.level === "doubt");
  return (
    <>
      {faults.length > 0 && (
        <section class="stack" aria-label="Faults">
          <RefusalPanel
            sentence={`${faults.length === 1 ? "One fault" : `${faults.length} faults`} in ${file}.`}
            remedy="Nothing was loaded. Mend the file and load it again."
          />
          <List findings={faults} />
        </section>
      )}
      {doubts.length > 0 && (
        <section class="stack" aria-label="Doubts">
          <h3>{doubts.length === 1 ? "One doubt, worth a look" : `${doubts.length} doubts, worth a look`}</h3>
          <p class="t-dim">They stop nobody. The manual decides.</p>
          <List findings={doubts} />
        </section>
      )}
    </>
  );
}
