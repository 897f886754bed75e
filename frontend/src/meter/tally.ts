/** Bytes as they arrive, and the rate once the first moments are past. */

export class Tally {
  bytes = 0;
  #began_ms: number;
  #counted = 0;
  #from_ms: number | null = null;
  #last_ms: number;

  /** What comes in the first `warm_ms` is not judged: senders begin slowly, radios sleep. */
  constructor(
    began_ms: number,
    readonly warm_ms: number,
  ) {
    this.#began_ms = this.#last_ms = began_ms;
  }

  add(bytes: number, now_ms: number): void {
    this.bytes += bytes;
    if (this.#from_ms !== null) this.#counted += bytes;
    else if (now_ms - this.#began_ms >= this.warm_ms) this.#from_ms = now_ms; // what just came, came before
    this.#last_ms = now_ms;
  }

  /** Null with nothing to judge; of very little, over the whole time up to `now_ms`. */
  mbps(now_ms: number): number | null {
    const span_ms = this.#from_ms === null ? 0 : this.#last_ms - this.#from_ms;
    if (this.#counted > 0 && span_ms >= this.warm_ms) return rateOf(this.#counted, span_ms / 1000);
    return this.bytes > 0 && now_ms > this.#began_ms ? rateOf(this.bytes, (now_ms - this.#began_ms) / 1000) : null;
  }
}

export function rateOf(bytes: number, seconds: number): number {
  return (bytes * 8) / 1e6 / seconds;
}
