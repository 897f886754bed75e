/** A canvas that remembers what was drawn on it. */

import { vi } from "vitest";

export type Call = { name: string; args: unknown[]; style: Record<string, unknown> };

export class FakeCanvas {
  width = 0;
  height = 0;
  calls: Call[] = [];
  #pen: Record<string, unknown> | null = null;

  getContext(): unknown {
    const { calls } = this;
    const style: Record<string, unknown> = { globalCompositeOperation: "source-over" };
    this.#pen ??= new Proxy(style, {
      get: (_, name: string) =>
        name in style ? style[name] : (...args: unknown[]) => calls.push({ name, args, style: { ...style } }),
      set: (_, name: string, value) => ((style[name] = value), true),
    });
    return this.#pen;
  }
  of(...names: string[]): Call[] {
    return this.calls.filter((one) => names.includes(one.name));
  }
}

export const canvases: FakeCanvas[] = [];

/** Canvases are these from now on; one pixel of the screen is one of the page. */
export function fakeCanvases(dense = 1): void {
  canvases.length = 0;
  vi.stubGlobal("document", {
    createElement: () => {
      canvases.push(new FakeCanvas());
      return canvases.at(-1);
    },
  });
  vi.stubGlobal("devicePixelRatio", dense);
  vi.stubGlobal(
    "ImageData",
    class {
      data: Uint8ClampedArray;
      constructor(
        readonly width: number,
        readonly height: number,
      ) {
        this.data = new Uint8ClampedArray(4 * width * height);
      }
    },
  );
}
