import type { ComponentChildren, JSX, RefObject } from "preact";
import { useLayoutEffect, useRef } from "preact/hooks";

export interface LayoutProps {
  /** Usually `TopStrip`. */
  strip: ComponentChildren;
  /** `CallLine`s, one per call; leave out when nobody calls. */
  calls?: ComponentChildren;
  /** The screen; starts with its h1. On a wide screen the list at the left. */
  children: ComponentChildren;
  /** The opened thing: right column when wide, in front of the list on a phone. */
  detail?: ComponentChildren;
  detailLabel?: string;
  /** The fixed main button of a work screen, with *More* after it. Then give no `bar`. */
  work?: ComponentChildren;
  /** `BottomBar`; left out while a task, torque or lift is worked. */
  bar?: ComponentChildren;
  /** `Rail`, seen on wide screens only. */
  rail?: ComponentChildren;
}

let barHeight = 66; // px, as the stylesheet has it at first

function setBarHeight(height: number): void {
  if (height === barHeight) return; // all of the page would be styled anew
  barHeight = height;
  document.documentElement.style.setProperty("--bar", `${height}px`);
}

/** How high the fixed bar is, as `--bar`: the page ends above it, and what gets the focus stands clear of it. */
function useBarHeight(frame: RefObject<HTMLDivElement>, work: boolean, bar: boolean): void {
  useLayoutEffect(() => {
    const fixed = frame.current?.querySelector(work ? ":scope > .work-bar" : ":scope > .bottom-bar");
    if (!fixed) {
      setBarHeight(0);
      return undefined;
    }
    const watch = new ResizeObserver(() => setBarHeight(fixed.getBoundingClientRect().height));
    watch.observe(fixed);
    return () => watch.disconnect();
  }, [work, bar]);
}

/** The frame of every screen. Reading order: skip link, strip, calls, main, main button, bar. */
export function Layout(props: LayoutProps): JSX.Element {
  const two = props.detail !== undefined && props.detail !== null;
  const frame = useRef<HTMLDivElement>(null);
  useBarHeight(frame, props.work !== undefined, props.bar !== undefined);
  return (
    <>
      <a class="skip-link" href="#main">
        Go to the main matter
      </a>
      <div ref={frame} class={two ? "layout layout-two" : "layout"}>
        <header class="layout-strip">{props.strip}</header>
        <section class="layout-calls" aria-label="Calls" hidden={!props.calls}>
          {props.calls}
        </section>
        <main id="main" tabIndex={-1} class={two ? "layout-main layout-behind" : "layout-main"}>
          {props.children}
        </main>
        {two && (
          <section class="layout-detail" aria-label={props.detailLabel ?? "Opened"}>
            {props.detail}
          </section>
        )}
        {props.work !== undefined && (
          <section class="work-bar" aria-label="What to press">
            {props.work}
          </section>
        )}
        {props.rail !== undefined && <div class="rail">{props.rail}</div>}
        {props.bar}
      </div>
    </>
  );
}
