/** What the browser keeps of one job, and one sentence about what it could not keep, read or strike out. */

import type { Job } from "../job/types";
import { allWaiting, forgetWaiting, keepSeen, keepWaiting, lastSeen, type Seen, type Waiting } from "./keep";
import { say } from "../words/say";

/** What failed, the gravest first: what the browser could not do, and what follows for the person. */
const FAULTS = {
  edit: [say("page_frame.keep_your_edit"), say("page_frame.leave_this_page_open_until_it")],
  read: [say("page_frame.read_what_it_kept"), say("page_frame.edits_that_waited_in_it_are")],
  strike: [say("page_frame.strike_out_an_edit_that_is"), say("page_frame.it_may_show_up_again_when")],
  seen: [say("page_frame.keep_a_copy_of_the_job"), say("page_frame.do_not_reload_this_page_without")],
} as const;
type Fault = keyof typeof FAULTS;

export class Keeping {
  trouble = $state(""); // one sentence; it stands until the same succeeds
  #why = new Map<Fault, string>();
  #unkept = new Set<string>(); // edits that wait in the open page alone

  constructor(readonly job: string) {}

  /** What was kept when the page was last open; nothing where it cannot be read. */
  async before(): Promise<{ seen: Seen | undefined; waiting: Waiting[] }> {
    const [seen, waiting] = await Promise.all([
      this.#tried("read", lastSeen(this.job)),
      this.#tried("read", allWaiting(this.job)),
    ]);
    return { seen, waiting: waiting ?? [] };
  }

  async keep(entry: Waiting): Promise<void> {
    this.#unkept.add(entry.edit);
    await this.#tried("edit", this.#kept(entry));
  }

  async strike(edit: string): Promise<void> {
    this.#unkept.delete(edit);
    await this.#tried("strike", forgetWaiting(edit));
  }

  async see(revision: number, document: Job): Promise<void> {
    await this.#tried("seen", keepSeen(this.job, revision, document));
  }

  async #kept(entry: Waiting): Promise<void> {
    await keepWaiting(entry);
    this.#unkept.delete(entry.edit);
  }

  async #tried<T>(what: Fault, work: Promise<T>): Promise<T | undefined> {
    try {
      const done = await work;
      if (what !== "edit" || !this.#unkept.size) this.#why.delete(what);
      return done;
    } catch (fault) {
      this.#why.set(what, fault instanceof Error ? fault.message : String(fault));
      return undefined;
    } finally {
      this.#tell();
    }
  }

  #tell(): void {
    const gravest = (Object.keys(FAULTS) as Fault[]).find((one) => this.#why.has(one));
    const [what, then] = gravest ? FAULTS[gravest] : ["", ""];
    this.trouble = gravest
      ? say("page_frame.this_browser_could_not_as", { what, why: this.#why.get(gravest)!, then })
      : "";
  }
}
