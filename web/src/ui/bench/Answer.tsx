/** What came out: every figure with its unit, lists as lists; pictures where people would rather look. */

import type { JSX } from "preact";
import { BoltPattern } from "../drawings";
import { unitWord } from "../words/units";
import { words } from "./Asked";

/** At most six figures, without noise at the end; exact decimals stay as they came. */
export function figure(value: unknown): string {
  if (typeof value === "number")
    return Number.isInteger(value) ? String(value) : String(Number(value.toPrecision(6)));
  if (typeof value === "boolean") return value ? "yes" : "no";
  return value === null || value === undefined ? "none" : String(value);
}

function isFigure(value: unknown): value is { value: unknown; unit: string } {
  return (
    typeof value === "object" &&
    value !== null &&
    "value" in value &&
    "unit" in value &&
    Object.keys(value).length === 2
  );
}

export function Answer({ result }: { result: unknown }): JSX.Element {
  if (isFigure(result)) {
    if (Array.isArray(result.value)) {
      return (
        <span>
          {result.value.map(figure).join(", ")} {unitWord(result.unit)}
        </span>
      );
    }
    return (
      <span>
        {figure(result.value)} {unitWord(result.unit)}
      </span>
    );
  }
  if (Array.isArray(result)) {
    if (result.every((one) => typeof one !== "object" || one === null))
      return <span>{result.map(figure).join(", ")}</span>;
    return (
      <ol>
        {result.map((one, index) => (
          <li key={index}>
            <Answer result={one} />
          </li>
        ))}
      </ol>
    );
  }
  if (typeof result === "object" && result !== null) {
    return (
      <dl class="answer">
        {Object.entries(result).map(([name, value]) => (
          <div key={name}>
            <dt>{words(name, isFigure(value) ? value.unit : "-")}</dt>
            <dd>
              <Answer result={value} />
            </dd>
          </div>
        ))}
      </dl>
    );
  }
  return <span>{figure(result)}</span>;
}

/** The picture of a calculation that has one. */
export function Picture({ name, result }: { name: string; result: unknown }): JSX.Element | null {
  if (name !== "tightening_order" || !Array.isArray(result)) return null;
  const order = result as number[];
  const count = order.length;
  return (
    <BoltPattern
      group={`${count} bolts on a circle`}
      seenFrom="above"
      up="top"
      pass={`Order: ${order.join(", ")}`}
      fasteners={order
        .map((n, index) => ({
          number: n,
          x: 90 * Math.sin((2 * Math.PI * (n - 1)) / count),
          y: 90 * Math.cos((2 * Math.PI * (n - 1)) / count),
          where: `number ${index + 1} in the order`,
          state: index === 0 ? ("next" as const) : ("to_do" as const),
        }))
        .sort((a, b) => a.number - b.number)}
    />
  );
}
