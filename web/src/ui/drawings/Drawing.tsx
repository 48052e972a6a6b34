import type { ComponentChildren, JSX } from "preact";
import { useEffect, useId, useRef, useState } from "preact/hooks";

export interface DrawingProps {
  /** What it is: "Clutch to flywheel, six bolts". */
  title: string;
  /** One sentence that says what matters now. */
  description: string;
  /** The same facts, as sentences. */
  facts: readonly string[];
  viewBox: string;
  children: ComponentChildren;
  /** Buttons laid over the picture. */
  over?: ComponentChildren;
  foot?: ComponentChildren;
}

/** Below 20em drawn text can't grow with the reader's own, so the list is open from the start. */
const NARROW = "(max-width: 20em)";

/** Every drawing: a picture with title and sentence, and the same facts as a real list after it. */
export function Drawing(props: DrawingProps): JSX.Element {
  const id = useId();
  const [open, setOpen] = useState(() => window.matchMedia(NARROW).matches);
  return (
    <figure class="drawing">
      <div class="drawing-field">
        <svg
          class="drawing-picture"
          viewBox={props.viewBox}
          role="img"
          aria-labelledby={`${id}-title`}
          aria-describedby={`${id}-desc`}
        >
          <title id={`${id}-title`}>{props.title}</title>
          <desc id={`${id}-desc`}>{props.description}</desc>
          {props.children}
        </svg>
        {props.over}
      </div>
      <div class="drawing-under">
        <details class="drawing-list" open={open} onToggle={(e) => setOpen(e.currentTarget.open)}>
          <summary>Read it as a list</summary>
          <ul>
            {props.facts.map((fact) => (
              <li key={fact}>{fact}</li>
            ))}
          </ul>
        </details>
        {props.foot}
      </div>
    </figure>
  );
}

/** The width of an element in px, followed while it changes, so that drawn text keeps its size. */
export function useWidth(fallback: number): { box: { current: HTMLDivElement | null }; width: number } {
  const box = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(fallback);
  useEffect(() => {
    const element = box.current;
    if (element === null) return;
    const observer = new ResizeObserver((entries) => {
      const seen = entries[0]?.contentRect.width;
      if (seen !== undefined && seen > 0) setWidth(Math.round(seen));
    });
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  return { box, width };
}
