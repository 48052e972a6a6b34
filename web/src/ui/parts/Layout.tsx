import type { ComponentChildren, JSX } from "preact";

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

/** The frame of every screen. Reading order: skip link, strip, calls, main, main button, bar. */
export function Layout(props: LayoutProps): JSX.Element {
  const two = props.detail !== undefined && props.detail !== null;
  return (
    <>
      <a class="skip-link" href="#main">
        Go to the main matter
      </a>
      <div class={two ? "layout layout-two" : "layout"}>
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
