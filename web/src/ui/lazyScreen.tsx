import type { ComponentType } from "preact";
import { useEffect, useState } from "preact/hooks";

/** A screen whose code is fetched when it is first shown, so that the first load stays small. */
export function lazyScreen<Props extends object>(
  load: () => Promise<{ default: ComponentType<Props> }>,
): ComponentType<Props> & { fetch: () => Promise<ComponentType<Props>> } {
  let known: ComponentType<Props> | undefined;
  async function fetch(): Promise<ComponentType<Props>> {
    known = (await load()).default;
    return known;
  }
  function LazyScreen(props: Props) {
    const [Screen, setScreen] = useState<ComponentType<Props> | undefined>(() => known);
    const [failed, setFailed] = useState(false);
    useEffect(() => {
      if (Screen || failed) return;
      let shown = true;
      fetch().then(
        (found) => shown && setScreen(() => found),
        () => shown && setFailed(true),
      );
      return () => {
        shown = false;
      };
    }, [Screen, failed]);
    if (Screen) return <Screen {...props} />;
    if (!failed) return <p role="status">Fetching this screen…</p>;
    return (
      <div role="alert">
        <p>This screen could not be fetched. Nothing is lost.</p>
        <button type="button" onClick={() => setFailed(false)}>
          Try again
        </button>
      </div>
    );
  }
  return Object.assign(LazyScreen, { fetch });
}
