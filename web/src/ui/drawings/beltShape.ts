/** The way of a belt round its pulleys, for drawing. As measured: y up, counter-clockwise, in one unit. */

import type { Point } from "./slingShape";

export interface PulleyShape {
  x: number;
  y: number;
  radius: number;
  /** A smooth idler on the belt's back, outside the loop. */
  back: boolean;
}

export interface Straight {
  from: Point;
  to: Point;
}

/** The straight after each pulley to the next one, where the belt touches both. */
export function straights(pulleys: readonly PulleyShape[]): readonly Straight[] {
  return pulleys.map((a, i) => {
    const b = pulleys[(i + 1) % pulleys.length] as PulleyShape;
    const distance = Math.hypot(b.x - a.x, b.y - a.y);
    const side = (p: PulleyShape) => (p.back ? -p.radius : p.radius);
    const way = Math.atan2(b.y - a.y, b.x - a.x) + Math.asin((side(a) - side(b)) / distance);
    // The pulley lies to the left of a belt that goes round it counter-clockwise, an idler at its back to the right.
    const touch = (p: PulleyShape): Point => ({
      x: p.x + side(p) * Math.sin(way),
      y: p.y - side(p) * Math.cos(way),
    });
    return { from: touch(a), to: touch(b) };
  });
}

export interface Frame {
  width: number;
  height: number;
  scale: number;
  /** From measured to drawn, where y grows downward. */
  place: (p: Point) => Point;
}

/** As large as it fits, all pulleys whole, in the middle of the width. */
export function frame(
  pulleys: readonly PulleyShape[],
  field: { width: number; height: number; margin: number },
): Frame {
  const x0 = Math.min(...pulleys.map((p) => p.x - p.radius));
  const x1 = Math.max(...pulleys.map((p) => p.x + p.radius));
  const y0 = Math.min(...pulleys.map((p) => p.y - p.radius));
  const y1 = Math.max(...pulleys.map((p) => p.y + p.radius));
  const scale = Math.min(
    (field.width - 2 * field.margin) / (x1 - x0),
    (field.height - 2 * field.margin) / (y1 - y0),
  );
  return {
    width: field.width,
    height: (y1 - y0) * scale + 2 * field.margin,
    scale,
    place: (p) => ({
      x: field.width / 2 + (p.x - (x0 + x1) / 2) * scale,
      y: field.margin + (y1 - p.y) * scale,
    }),
  };
}

/** The whole loop as one path: each straight, then the arc round the pulley it comes to. */
export function beltPath(
  pulleys: readonly PulleyShape[],
  wraps_deg: readonly number[],
  { place, scale }: Frame,
): string {
  const ways = straights(pulleys);
  const first = place((ways[0] as Straight).from);
  const parts = ways.map((way, i) => {
    const n = (i + 1) % pulleys.length;
    const pulley = pulleys[n] as PulleyShape;
    const to = place(way.to);
    const leaves = place((ways[n] as Straight).from);
    const radius = round(pulley.radius * scale);
    const large = (wraps_deg[n] ?? 0) > 180 ? 1 : 0;
    return (
      `L${round(to.x)} ${round(to.y)} ` +
      `A${radius} ${radius} 0 ${large} ${pulley.back ? 1 : 0} ${round(leaves.x)} ${round(leaves.y)}`
    );
  });
  return `M${round(first.x)} ${round(first.y)} ${parts.join(" ")} Z`;
}

function round(px: number): number {
  return Math.round(px * 100) / 100;
}
