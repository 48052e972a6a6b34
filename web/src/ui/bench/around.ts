/** The line round places seen from above. */

export type Place = readonly [number, number];

/** The line round all places, within which the centre of gravity must be: their convex hull, counter-clockwise. */
export function around(places: readonly Place[]): readonly Place[] {
  const sorted = [...places].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const turn = (o: Place, a: Place, b: Place) =>
    (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0]);
  const half = (from: readonly Place[]) => {
    const line: Place[] = [];
    for (const place of from) {
      while (line.length > 1 && turn(line.at(-2) as Place, line.at(-1) as Place, place) <= 0) line.pop();
      line.push(place);
    }
    return line.slice(0, -1);
  };
  return sorted.length < 3 ? sorted : [...half(sorted), ...half([...sorted].reverse())];
}
