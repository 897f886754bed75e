/** The stacked storeys as a three-dimensional scene: walls in ink edges, runs, boxes, a map on each floor. */

import {
  BufferGeometry, BoxGeometry, Color, DataTexture, DoubleSide, EdgesGeometry, ExtrudeGeometry, Group, Line, LineBasicMaterial, LineDashedMaterial,
  LineSegments, LinearFilter, Mesh, MeshBasicMaterial, Path, PlaneGeometry, RGBAFormat, Scene, Shape, ShapeGeometry, SRGBColorSpace, Vector3,
} from "three";
import type { Job, Opening, Storey, Wall } from "../job/types";
import { direction, lengthOf, type Point } from "../maths/geometry";
import type { Ramp } from "../maths/colour";
import type { Raster } from "../net/field";
import type { MapScale } from "./mapLayer";
import { thicknessOf, type Constructions } from "./storey";

export type Inks = { ink: string; paper: string; grey: string };
export type Planned = { id: string; storey: string; position: Point; height_m: number };

/** Sheet x right, y up and z up become three's x right, y up, z towards the eye. */
const at = (x: number, y: number, z: number): Vector3 => new Vector3(x, z, -y);

export function stackOf(job: Job, known: Constructions, inks: Inks, apart_m: number, shown: ReadonlySet<string>, planned: readonly Planned[]): { scene: Scene; floors: Map<string, { z_m: number; group: Group }> } {
  const scene = new Scene();
  scene.background = new Color(inks.paper);
  const floors = new Map<string, { z_m: number; group: Group }>();
  const ordered = [...job.house.storeys].sort((a, b) => a.elevation_m - b.elevation_m);
  ordered.forEach((storey, level) => floors.set(storey.id, { z_m: storey.elevation_m + level * apart_m, group: new Group() }));
  const edge = new LineBasicMaterial({ color: inks.ink });
  const face = new MeshBasicMaterial({ color: inks.paper, transparent: true, opacity: 0.72, side: DoubleSide, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 });
  for (const storey of ordered) {
    const floor = floors.get(storey.id)!;
    if (!shown.has(storey.id)) continue;
    for (const wall of job.house.walls) if (wall.storey === storey.id) floor.group.add(...wallOf(wall, storey, job.house.openings.filter((one) => one.wall === wall.id), known, face, edge));
    for (const room of job.house.rooms) if (room.storey === storey.id) floor.group.add(slabOf(room.polygon, inks));
    floor.group.position.y = floor.z_m;
    scene.add(floor.group);
  }
  const z = (storey: string, height_m: number): number => (floors.get(storey)?.z_m ?? 0) + height_m;
  const solid = new MeshBasicMaterial({ color: inks.ink });
  for (const box of [...job.boxes, ...planned]) {
    if (!shown.has(box.storey)) continue;
    const mesh = new Mesh(new BoxGeometry(0.3, 0.12, 0.3), solid);
    mesh.position.copy(at(box.position[0], box.position[1], z(box.storey, box.height_m)));
    scene.add(mesh);
  }
  const dashed = new LineDashedMaterial({ color: inks.ink, dashSize: 0.14, gapSize: 0.09 });
  for (const run of job.house.runs) {
    const points = run.ends.flatMap((end) => {
      const one = job.house.outlets.find((outlet) => outlet.id === end) ?? job.house.meeting_points.find((point) => point.id === end);
      return one?.position && shown.has(one.storey) ? [at(one.position[0], one.position[1], z(one.storey, one.height_m))] : [];
    });
    if (points.length < 2) continue;
    const line = new Line(new BufferGeometry().setFromPoints(points), dashed);
    line.computeLineDistances();
    scene.add(line);
  }
  return { scene, floors };
}

function wallOf(wall: Wall, storey: Storey, openings: readonly Opening[], known: Constructions, face: MeshBasicMaterial, edge: LineBasicMaterial): (Mesh | LineSegments)[] {
  const long = lengthOf(wall);
  const high = wall.height_m ?? storey.height_m;
  const thick = thicknessOf(wall, known);
  const shape = new Shape([[0, 0], [long, 0], [long, high], [0, high]].map(([x, y]) => new Vector3(x, y, 0) as never));
  for (const one of openings) {
    const [x0, x1] = [one.offset_m + 0.001, Math.min(one.offset_m + one.width_m, long - 0.002)];
    const [y0, y1] = [Math.max(one.sill_m, 0.002), Math.min(one.sill_m + one.height_m, high - 0.002)];
    if (x1 > x0 && y1 > y0) shape.holes.push(new Path([[x0, y0], [x0, y1], [x1, y1], [x1, y0]].map(([x, y]) => new Vector3(x, y, 0) as never)));
  }
  const solid = new ExtrudeGeometry(shape, { depth: thick, bevelEnabled: false });
  solid.translate(0, wall.base_m, -thick / 2);
  const d = direction(wall);
  return [new Mesh(solid, face), new LineSegments(new EdgesGeometry(solid, 20), edge)].map((part) => {
    part.position.copy(at(wall.start[0], wall.start[1], 0));
    part.rotation.y = Math.atan2(d[1], d[0]);
    return part;
  });
}

function slabOf(polygon: readonly Point[], inks: Inks): Mesh {
  const shape = new Shape(polygon.map((p) => new Vector3(p[0], p[1], 0) as never));
  const mesh = new Mesh(new ShapeGeometry(shape), new MeshBasicMaterial({ color: inks.paper, side: DoubleSide, transparent: true, opacity: 0.55, depthWrite: false }));
  mesh.rotation.x = -Math.PI / 2;
  mesh.position.y = -0.02;
  return mesh;
}

/** A map laid on a storey's floor. */
export function mapOf(raster: Raster, ramp: Ramp, scale: MapScale): Mesh {
  const { rows, cols, values, step_m } = raster;
  const pixels = new Uint32Array(rows * cols);
  for (let i = 0; i < pixels.length; i++) {
    const value = values[i]!;
    const place = Math.min(1, Math.max(0, scale.place(value)));
    pixels[i] = value === value ? ramp[(place * 255) | 0]! : 0;
  }
  const texture = new DataTexture(new Uint8Array(pixels.buffer), cols, rows, RGBAFormat);
  texture.colorSpace = SRGBColorSpace;
  texture.magFilter = LinearFilter;
  texture.needsUpdate = true;
  const mesh = new Mesh(new PlaneGeometry(cols * step_m, rows * step_m), new MeshBasicMaterial({ map: texture, transparent: true, side: DoubleSide, alphaTest: 0.4 }));
  mesh.rotation.x = -Math.PI / 2;
  mesh.position.copy(at(raster.x0_m + ((cols - 1) * step_m) / 2, raster.y0_m + ((rows - 1) * step_m) / 2, 0.03));
  return mesh;
}
