/** The drawing itself, by three.js: hidden-line walls with cut tops in ink, floors with their sheets, cables through all. */

import {
  BufferGeometry,
  CanvasTexture,
  Color,
  DoubleSide,
  Float32BufferAttribute,
  Group,
  LineBasicMaterial,
  LineSegments,
  Mesh,
  MeshBasicMaterial,
  OrthographicCamera,
  Scene,
  SRGBColorSpace,
  WebGLRenderer,
} from "three";
import { LineMaterial } from "three/examples/jsm/lines/LineMaterial.js";
import { LineSegments2 } from "three/examples/jsm/lines/LineSegments2.js";
import { LineSegmentsGeometry } from "three/examples/jsm/lines/LineSegmentsGeometry.js";
import type { Inks } from "./inks";
import { axesOf, type Orbit } from "./orbit";
import type { Cable, Floor, Point3, Prism } from "./shape";

const FAR_M = 500;
const ABOVE_FLOOR_M = 0.02;

export type Placed = { floor: Floor; sheet: HTMLCanvasElement; base_m: number };

export class SolidDrawing {
  readonly #renderer: WebGLRenderer;
  readonly #scene = new Scene();
  readonly #camera = new OrthographicCamera();
  #house = new Group();

  /** Throws where the browser has no WebGL. */
  constructor(canvas: HTMLCanvasElement) {
    this.#renderer = new WebGLRenderer({ canvas, antialias: true, preserveDrawingBuffer: true }); // kept for printing
    this.#camera.up.set(0, 0, 1);
    this.#scene.add(this.#house);
  }

  put(placed: readonly Placed[], cables: readonly { cable: Cable; points: Point3[] }[], inks: Inks): void {
    this.#clear();
    this.#scene.background = new Color(inks.paper);
    for (const { floor, sheet, base_m } of placed) {
      const storey = new Group();
      storey.position.z = base_m;
      storey.add(floorMesh(floor, sheet), prismMesh(floor.prisms, inks), prismEdges(floor.prisms, inks));
      this.#house.add(storey);
    }
    for (const known of [true, false]) {
      const ends = cables
        .filter((one) => one.cable.known === known)
        .flatMap(({ points }) => points.slice(1).flatMap((point, i) => [...points[i]!, ...point]));
      if (ends.length) this.#house.add(cableLines(ends, known, inks));
    }
  }

  draw(orbit: Orbit, width_px: number, height_px: number): void {
    const { eye } = axesOf(orbit);
    const camera = this.#camera;
    const [wide, high] = [width_px / 2 / orbit.px_per_m, height_px / 2 / orbit.px_per_m];
    [camera.left, camera.right, camera.bottom, camera.top, camera.near, camera.far] = [
      -wide,
      wide,
      -high,
      high,
      0.1,
      2 * FAR_M,
    ];
    camera.position.set(...(orbit.target.map((at, i) => at + FAR_M * eye[i]!) as Point3));
    camera.lookAt(...orbit.target);
    camera.updateProjectionMatrix();
    this.#renderer.setPixelRatio(Math.min(devicePixelRatio || 1, 2));
    this.#renderer.setSize(width_px, height_px, false);
    this.#renderer.render(this.#scene, camera);
  }

  close(): void {
    this.#clear();
    this.#renderer.dispose();
    this.#renderer.forceContextLoss();
  }

  #clear(): void {
    this.#house.traverse((thing) => {
      if (!(thing instanceof Mesh || thing instanceof LineSegments)) return;
      thing.geometry.dispose();
      const material = thing.material as MeshBasicMaterial;
      material.map?.dispose();
      material.dispose();
    });
    this.#house.clear();
  }
}

function floorMesh(floor: Floor, sheet: HTMLCanvasElement): Mesh {
  const [left, bottom, right, top] = floor.bounds;
  const geometry = new BufferGeometry();
  const z = ABOVE_FLOOR_M;
  geometry.setAttribute(
    "position",
    new Float32BufferAttribute([left, bottom, z, right, bottom, z, right, top, z, left, top, z], 3),
  );
  geometry.setAttribute("uv", new Float32BufferAttribute([0, 0, 1, 0, 1, 1, 0, 1], 2));
  geometry.setIndex([0, 1, 2, 0, 2, 3]);
  const map = new CanvasTexture(sheet);
  map.colorSpace = SRGBColorSpace;
  map.anisotropy = 8;
  return new Mesh(geometry, new MeshBasicMaterial({ map, alphaTest: 0.5, side: DoubleSide }));
}

/** Sides in paper, a shade darker the more they look west; tops in ink where they are solid, as a plan cuts them. */
function prismMesh(prisms: readonly Prism[], inks: Inks): Mesh {
  const [light, shade, ink] = [new Color(inks.sheet), new Color(inks.soft), new Color(inks.ink)];
  const places: number[] = [];
  const colours: number[] = [];
  const triangle = (corners: Point3[], colour: Color) => {
    for (const corner of corners) {
      places.push(...corner);
      colours.push(colour.r, colour.g, colour.b);
    }
  };
  for (const { corners, low_m, high_m, solid } of prisms) {
    corners.forEach(([x, y], i) => {
      const [u, v] = corners[(i + 1) % corners.length]!;
      const west = (1 - (v - y) / (Math.hypot(u - x, v - y) || 1)) / 2; // from 0, looking east, to 1
      const side = light.clone().lerp(shade, 0.15 + 0.6 * west);
      triangle(
        [
          [x, y, low_m],
          [u, v, low_m],
          [u, v, high_m],
        ],
        side,
      );
      triangle(
        [
          [x, y, low_m],
          [u, v, high_m],
          [x, y, high_m],
        ],
        side,
      );
    });
    const top = corners.map(([x, y]) => [x, y, high_m] as Point3);
    for (let i = 1; i + 1 < top.length; i++) triangle([top[0]!, top[i]!, top[i + 1]!], solid ? ink : light);
  }
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new Float32BufferAttribute(places, 3));
  geometry.setAttribute("color", new Float32BufferAttribute(colours, 3));
  return new Mesh(
    geometry,
    new MeshBasicMaterial({
      vertexColors: true,
      side: DoubleSide,
      polygonOffset: true,
      polygonOffsetFactor: 1,
      polygonOffsetUnits: 1,
    }),
  );
}

function prismEdges(prisms: readonly Prism[], inks: Inks): LineSegments {
  const places: number[] = [];
  for (const { corners, low_m, high_m, uprights } of prisms) {
    corners.forEach(([x, y], i) => {
      const [u, v] = corners[(i + 1) % corners.length]!;
      const upright = uprights[i];
      if (upright) places.push(x, y, upright[0], x, y, upright[1]);
      places.push(x, y, low_m, u, v, low_m, x, y, high_m, u, v, high_m);
    });
  }
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new Float32BufferAttribute(places, 3));
  return new LineSegments(geometry, new LineBasicMaterial({ color: inks.ink }));
}

/** Seen through walls and floors: where they run is what one looks for. */
function cableLines(ends: number[], known: boolean, inks: Inks): LineSegments2 {
  const geometry = new LineSegmentsGeometry();
  geometry.setPositions(ends);
  const material = new LineMaterial({
    color: inks.ink,
    linewidth: known ? 2.5 : 1.8,
    dashed: !known,
    dashSize: 0.18,
    gapSize: 0.14,
    depthTest: false,
    transparent: true,
  });
  const lines = new LineSegments2(geometry, material);
  lines.computeLineDistances();
  lines.renderOrder = 1;
  return lines;
}
