/** The sheet that lies on a floor: rooms, the map on them, their names. Painted once, seen from every side. */

import { insideOf, type Point } from "../maths/geometry";
import type { Ramp } from "../maths/colour";
import type { Raster } from "../net/field";
import { MapLayer, type MapScale } from "../plan/mapLayer";
import { View } from "../plan/view.svelte";
import type { Inks } from "./inks";
import type { Orbit } from "./orbit";
import type { Floor } from "./shape";

export const PX_PER_M = 56;
export const LEGIBLE_PX = 11.5;

/** How large a figure must be on the sheet to be legible from an eye that sees the sheet aslant and from afar. */
export function figureSize(from: Orbit): number {
  return Math.ceil((LEGIBLE_PX * PX_PER_M) / from.px_per_m / Math.sin((from.tilt_deg * Math.PI) / 180));
}

export type Named = { name: string; polygon: Point[] };

export function paintFloor(
  floor: Floor,
  rooms: readonly Named[],
  map: { raster: Raster; ramp: Ramp; scale: MapScale } | null,
  inks: Inks,
  figure_px: number,
): HTMLCanvasElement {
  const [left, bottom, right, top] = floor.bounds;
  const view = new View();
  view.scale = PX_PER_M;
  [view.left_m, view.top_m] = [left, top];
  [view.width_px, view.height_px] = [(right - left) * PX_PER_M, (top - bottom) * PX_PER_M];

  const sheet = document.createElement("canvas");
  const layer = new MapLayer(document.createElement("canvas"));
  [layer.ink, layer.paper, layer.figure_px] = [inks.ink, inks.sheet, figure_px];
  if (map) [layer.raster, layer.ramp, layer.scale] = [map.raster, map.ramp, map.scale];
  layer.draw(view);
  [sheet.width, sheet.height] = [layer.canvas.width, layer.canvas.height];

  const pen = sheet.getContext("2d")!;
  const dense = sheet.width / view.width_px;
  pen.setTransform(dense, 0, 0, dense, 0, 0);
  const ring = (points: readonly Point[]) => {
    pen.beginPath();
    points.forEach((p, i) => (i ? pen.lineTo(view.x(p[0]), view.y(p[1])) : pen.moveTo(view.x(p[0]), view.y(p[1]))));
    pen.closePath();
  };
  pen.fillStyle = inks.sheet;
  for (const room of rooms) {
    ring(room.polygon);
    pen.fill();
  }
  pen.drawImage(layer.canvas, 0, 0, view.width_px, view.height_px);
  pen.textAlign = "center";
  pen.textBaseline = "middle";
  pen.lineJoin = "round";
  for (const room of rooms) {
    const at = insideOf(room.polygon);
    const xs = room.polygon.map((p) => p[0]);
    const wide_px = (Math.max(...xs) - Math.min(...xs)) * PX_PER_M;
    pen.font = `italic ${Math.min(figure_px, (1.5 * wide_px) / room.name.length).toFixed(1)}px 'Libertinus Serif', Georgia, serif`;
    pen.lineWidth = figure_px / 4;
    pen.strokeStyle = inks.sheet;
    pen.fillStyle = inks.ink;
    pen.strokeText(room.name, view.x(at[0]), view.y(at[1]));
    pen.fillText(room.name, view.x(at[0]), view.y(at[1]));
  }
  pen.globalCompositeOperation = "destination-out";
  for (const hole of floor.voids) {
    ring(hole);
    pen.fill();
  }
  return sheet;
}
