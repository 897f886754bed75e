/** The same house in words: what a reader who does not see the drawing needs of it. */

import type { Job } from "../job/types";
import { contains, type Point } from "../maths/geometry";
import type { Raster } from "../net/field";
import type { Planned } from "./shape";

export type RoomWords = {
  room: string;
  name: string;
  storey: string;
  range: { low: number; high: number } | null;
  boxes: string[];
  outlets: string[];
  cables: string[];
};

export function roomWords(job: Job, rasters: ReadonlyMap<string, Raster>, planned: readonly Planned[]): RoomWords[] {
  const storeys = [...job.house.storeys].sort((a, b) => b.elevation_m - a.elevation_m);
  return storeys.flatMap((storey) =>
    job.house.rooms
      .filter((room) => room.storey === storey.id)
      .map((room) => {
        const inside = (one: { storey: string; position: Point | null }) =>
          one.storey === storey.id && one.position !== null && contains(room.polygon, one.position);
        const outlets = job.house.outlets.filter((one) => one.room === room.id || (one.room === null && inside(one)));
        const places = new Set([...outlets, ...job.house.meeting_points.filter(inside)].map((one) => one.id));
        return {
          room: room.id,
          name: room.name,
          storey: storey.name,
          range: rangeIn(room.polygon, rasters.get(storey.id)),
          boxes: [
            ...job.boxes.filter(inside),
            ...planned.filter(inside),
            ...job.house.meeting_points.filter(inside),
          ].map((one) => `${one.id} ${one.name}`),
          outlets: outlets.map((one) => one.id),
          cables: job.house.runs.filter((run) => run.ends.some((end) => places.has(end))).map((run) => run.id),
        };
      }),
  );
}

/** The least and the most that the map shows inside a polygon. */
export function rangeIn(polygon: readonly Point[], raster: Raster | undefined): { low: number; high: number } | null {
  if (!raster) return null;
  let [low, high] = [Infinity, -Infinity];
  for (let row = 0; row < raster.rows; row++) {
    for (let col = 0; col < raster.cols; col++) {
      const value = raster.values[row * raster.cols + col]!;
      if (value !== value || !contains(polygon, [raster.x0_m + col * raster.step_m, raster.y0_m + row * raster.step_m]))
        continue;
      [low, high] = [Math.min(low, value), Math.max(high, value)];
    }
  }
  return low <= high ? { low, high } : null;
}
