/** Where hook and feet of a two-legged sling are drawn: y grows downward, the near leg is at the left. */

export interface Point {
  x: number;
  y: number;
}

export interface SlingShape {
  hook: Point;
  near: Point;
  far: Point;
}

/** Level distances and rise in any one unit, as large as the field allows; the feet stand in its middle. */
export function slingShape(
  sling: { near: number; far: number; rise: number },
  field: { left: number; top: number; width: number; height: number },
): SlingShape {
  const span = sling.near + sling.far;
  const scale = Math.min(span > 0 ? field.width / span : Number.POSITIVE_INFINITY, field.height / sling.rise);
  const left = field.left + (field.width - span * scale) / 2;
  const feet = field.top + sling.rise * scale;
  return {
    hook: { x: left + sling.near * scale, y: field.top },
    near: { x: left, y: feet },
    far: { x: left + span * scale, y: feet },
  };
}

/** From a corner in the direction of another point. */
function towards(corner: Point, to: Point, distance: number): Point {
  const length = Math.hypot(to.x - corner.x, to.y - corner.y) || 1;
  return {
    x: corner.x + ((to.x - corner.x) / length) * distance,
    y: corner.y + ((to.y - corner.y) / length) * distance,
  };
}

/** Where the words of an angle stand: on the line that halves it, further out the narrower it is. */
export function between(corner: Point, a: Point, b: Point, distance: number): Point {
  const on_a = towards(corner, a, 1);
  const on_b = towards(corner, b, 1);
  const middle = { x: (on_a.x + on_b.x) / 2, y: (on_a.y + on_b.y) / 2 };
  const half = Math.hypot(middle.x - corner.x, middle.y - corner.y); // the cosine of half the angle
  return towards(corner, middle, distance * (half > 0.92 ? 1.25 : 1));
}

/** The arc of an angle between two directions from its corner, as a path. */
export function angleArc(corner: Point, from: Point, to: Point, radius: number): string {
  const a = towards(corner, from, radius);
  const b = towards(corner, to, radius);
  const cross = (a.x - corner.x) * (b.y - corner.y) - (a.y - corner.y) * (b.x - corner.x);
  return `M${round(a.x)} ${round(a.y)} A${radius} ${radius} 0 0 ${cross > 0 ? 1 : 0} ${round(b.x)} ${round(b.y)}`;
}

function round(px: number): number {
  return Math.round(px * 100) / 100;
}
