/** After a row was added, the hand goes on typing in it. */

import { useEffect, useRef } from "preact/hooks";

export function useNewRow(): { box: { current: HTMLFieldSetElement | null }; added: () => void } {
  const box = useRef<HTMLFieldSetElement>(null);
  const waiting = useRef(false);
  useEffect(() => {
    if (!waiting.current) return;
    waiting.current = false;
    const rows = box.current?.querySelectorAll("[data-row]") ?? [];
    rows[rows.length - 1]?.querySelector("input")?.focus();
  });
  return {
    box,
    added: () => {
      waiting.current = true;
    },
  };
}
