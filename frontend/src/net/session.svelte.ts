/** One job, live: the server's state by revision, own edits that wait, and the state with them on top. */

import { applied } from "../job/apply";
import { editId, giveBack, keepBack } from "../job/ids";
import { SCHEMA_VERSION } from "../job/kinds";
import type { Change, Edit, Job } from "../job/types";
import { ask, get, post, saidAtEnd, socketUrl, wordsOf, type RefusalData } from "./api";
import type { Waiting } from "./keep";
import { Keeping } from "./keeping.svelte";
import { answered } from "./answered";
import type { Now } from "./now";
import { sharing } from "./sharing";
import type { Plan } from "./planSchema";
import type { Answer, FileState, Notice, PlanState, Presence, Refused, Row, Said } from "./said";
import { say } from "../words/say";

type Entry = Waiting & { sent: boolean; landed: boolean };

const SLOWEST_RETRY_MS = 5000;
const LARGEST_EDIT = 7_900_000; // bytes; the server closes at 8 MB of one message

export class Session {
  job = $state.raw<Job | null>(null);
  link = $state<"opening" | "live" | "away" | "unpaired" | "absent">("opening");
  waiting = $state(0);
  undoLabel = $state<string | null>(null);
  redoLabel = $state<string | null>(null);
  trouble = $state(""); // why the server lets nobody in right now, where it says so
  notices = $state.raw<Notice[]>([]);
  refusals = $state.raw<Refused[]>([]);
  people = $state.raw<Presence[]>([]);
  plan = $state.raw<PlanState | null>(null);
  #whole = $state.raw<Plan | null>(null); // the last finished plan; what it shares with the one before is the same
  #wholeOf = $state<number | null>(null); // revision of the job that it is of
  #answer = $state.raw<{ revision: number; answer: Answer } | null>(null); // of one that is not finished yet
  /** The last finished plan, with what is known of the next one. */
  result = $derived(this.#whole && this.#answer ? answered(this.#whole, this.#answer.answer) : this.#whole);
  pictures = $state(0); // grows whenever the list of pictures changed
  now = $state.raw<Now | null>(null); // where the job stands, as last asked
  news = $state.raw<Row[]>([]); // the latest edits of others, for the record strip
  revision = $state(0);
  file = $state.raw<FileState | null>(null); // whether the job's file holds what the log holds

  readonly keeping: Keeping;
  #server: Job | null = null;
  #queue: Entry[] = [];
  #undone: Edit[] = []; // own edits taken back before they were sent
  #order = Date.now();
  #socket: WebSocket | null = null;
  #retry_ms = 300;
  #timer = 0;
  #saving = 0;
  #closed = false;
  #followers = 0;
  #planOf = -1;
  #at: Record<string, unknown> | null = null;

  constructor(
    readonly key: string,
    private person: string,
  ) {
    this.keeping = new Keeping(key);
  }

  get alone(): boolean {
    return this.link !== "live";
  }

  async start(): Promise<void> {
    const { seen, waiting } = await this.keeping.before();
    if (this.#closed) return;
    if (seen && seen.job.schema_version === SCHEMA_VERSION) {
      this.#server = seen.job;
      this.revision = seen.revision;
    }
    this.#queue = waiting.map((entry) => ({ ...entry, sent: true, landed: false }));
    this.#show();
    this.#connect();
    addEventListener("online", this.#soon);
    addEventListener("offline", this.#lost);
  }

  /** Go on as whom this device was paired as again: what waits is sent. */
  pairedAs(person: string): void {
    this.person = person;
    if (this.link !== "unpaired") return;
    this.link = "away";
    this.#connect();
  }

  close(): void {
    this.#closed = true;
    clearTimeout(this.#timer);
    removeEventListener("online", this.#soon);
    removeEventListener("offline", this.#lost);
    this.#socket?.close();
  }

  /** One gesture. It shows at once, waits until the server has it on its disk, and may be refused. */
  submit(label: string, changes: Change[]): void {
    if (changes.length === 0 || !this.job) return;
    this.#undone = [];
    this.#enqueue("edit", { edit: editId(), base: this.revision, label: label.slice(0, 80), changes });
  }

  undo(): void {
    if (!this.undoWords) return;
    const last = this.#queue.at(-1);
    if (last && !last.sent && last.type === "edit") {
      this.#take(last.edit);
      this.#undone.push(last.body!);
      const made = last.body!.changes.flatMap((change) => (change.do === "put" ? [change.entity.id] : []));
      giveBack(this.job!, made); // nobody was told
      this.#show();
    } else this.#enqueue("undo", null);
  }

  redo(): void {
    if (!this.redoWords) return;
    const back = this.#undone.pop();
    if (back) this.#enqueue("edit", { ...back, edit: editId(), base: this.revision });
    else this.#enqueue("redo", null);
  }

  /** Where this person is looking, for the others. */
  here(at: Record<string, unknown>): void {
    this.#at = at;
    this.#say({ type: "here", at });
  }

  dismissNotices(): void {
    const last = Math.max(0, ...this.notices.map((notice) => notice.notice ?? 0));
    if (last) this.#say({ type: "seen", notice: last });
    this.notices = [];
  }

  dismissRefusals(): void {
    this.refusals = [];
  }

  #enqueue(type: Entry["type"], body: Edit | null): void {
    if (body && new Blob([JSON.stringify(body)]).size > LARGEST_EDIT) {
      const refusal = {
        code: "too-large",
        problem: say("page_frame.that_is_more_than_the_server"),
        where: "",
        remedy: say("page_frame.do_it_in_several_steps"),
      };
      this.refusals = [...this.refusals, { label: body.label, refusal }];
      return;
    }
    const edit = body?.edit ?? editId();
    const entry: Entry = { job: this.key, order: this.#order++, type, edit, body, sent: false, landed: false };
    this.#queue.push(entry);
    const { sent: _, landed: __, ...kept } = entry;
    void this.keeping.keep($state.snapshot(kept) as Waiting);
    this.#send(entry);
    this.#show();
  }

  #send(entry: Entry): void {
    if (this.link !== "live") return;
    entry.sent = true;
    this.#say(entry.type === "edit" ? { type: "edit", ...entry.body } : { type: entry.type, edit: entry.edit });
  }

  #say(message: unknown): void {
    if (this.#socket?.readyState === WebSocket.OPEN) this.#socket.send(JSON.stringify(message));
  }

  #soon = (): void => {
    clearTimeout(this.#timer);
    if (this.link === "away") this.#connect();
  };

  #lost = (): void => {
    this.#socket?.close();
    this.#gone(this.#socket);
  };

  #connect(): void {
    const socket = new WebSocket(socketUrl(`/api/jobs/${encodeURIComponent(this.key)}/live`));
    this.#socket = socket;
    socket.onopen = () => {
      if (socket === this.#socket) this.#say({ type: "hello", seen: this.#server ? this.revision : null });
    };
    socket.onmessage = (message) => {
      if (socket !== this.#socket) return;
      if (this.link !== "live") this.#arrived();
      this.#hear(JSON.parse(message.data as string) as Said);
    };
    socket.onclose = (end) => {
      if (socket !== this.#socket) return;
      if (end.code === 4401) this.link = "unpaired";
      else if (end.code === 4404) this.link = "absent";
      else {
        const said = saidAtEnd(end);
        this.trouble = said ? wordsOf(said) : "";
        this.#gone(socket);
      }
    };
  }

  /** The server spoke: a socket that only opened may yet be closed with a reason. */
  #arrived(): void {
    this.#retry_ms = 300;
    this.trouble = "";
    this.link = "live";
    this.#queue.forEach((entry) => this.#send(entry));
    if (this.#at) this.here(this.#at);
    if (this.#followers) this.#showing();
  }

  #gone(socket: WebSocket | null): void {
    if (this.#closed || socket !== this.#socket || this.link === "unpaired" || this.link === "absent") return;
    this.#socket = null;
    this.link = "away";
    if (this.job) keepBack(this.job);
    this.people = [];
    clearTimeout(this.#timer);
    this.#timer = window.setTimeout(() => this.#connect(), this.#retry_ms);
    this.#retry_ms = Math.min(SLOWEST_RETRY_MS, this.#retry_ms * 2);
  }

  #hear(message: Said): void {
    switch (message.type) {
      case "snapshot":
        this.#server = message.job;
        this.revision = message.revision;
        this.#show();
        break;
      case "edits":
        this.#rows(message.edits);
        break;
      case "ack":
        this.#take(message.edit);
        this.#tell(message.told);
        if (message.free && this.job) giveBack(this.job, message.free);
        this.#show();
        break;
      case "refused": {
        const entry = this.#take(message.edit);
        if (this.#otherId(entry, message.refusal)) break;
        const label =
          entry?.body?.label ??
          (entry ? `${entry.type === "undo" ? say("page_frame.undo_2") : say("page_frame.redo_2")}` : "");
        this.refusals = [...this.refusals, { label, refusal: message.refusal }];
        this.#show();
        break;
      }
      case "retry":
        window.setTimeout(() => {
          const entry = this.#queue.find((one) => one.edit === message.edit);
          if (entry) this.#send(entry);
        }, 2000);
        this.refusals = [
          ...this.refusals.filter((one) => one.refusal.code !== "cannot-save"),
          { label: "", refusal: message.refusal },
        ];
        break;
      case "mine":
        this.undoLabel = message.undo;
        this.redoLabel = message.redo;
        break;
      case "notice":
        this.#tell(message.notices);
        break;
      case "people":
        this.people = message.people;
        break;
      case "plan":
        this.plan = message;
        void this.#fetchPlan();
        break;
      case "answer":
        this.#answer = { revision: message.revision, answer: this.#shared(message.answer) };
        break;
      case "file":
        this.file = message;
        break;
      case "pictures":
        this.pictures += 1;
    }
  }

  /** An answer whose parts are those that are shown, where they say the same. */
  #shared(answer: Answer): Answer {
    const shown = this.result;
    return shown ? sharing({ ...shown, price: shown.takeoff.quote }, answer) : answer;
  }

  /** Edited since the plan at hand was made: the next one is on its way, or cannot be made yet. */
  get stale(): boolean {
    const plan = this.plan;
    if (!plan || plan.made === null) return false;
    const here = plan.made === this.#wholeOf; // the server may have finished what this page still has to fetch
    return !here || plan.state !== "done" || plan.stale || this.revision > plan.revision || this.waiting > 0;
  }

  /** Revision of the job that the plan at hand is of. */
  get made(): number {
    return this.#wholeOf ?? 0;
  }

  /** What rooms get, where access points go and the price are of the next plan already; the rest is on its way. */
  get coming(): boolean {
    return this.#answer !== null && this.#whole !== null;
  }

  /** Revision of the job that they are of. */
  get answeredOf(): number {
    return this.#answer?.revision ?? 0;
  }

  /** Revision of the job whose access points, rooms and price are shown. */
  get resultOf(): number {
    return Math.max(this.made, this.answeredOf);
  }

  /** A part of the page shows what a plan says: while any does, the server keeps it up. Call what comes back once. */
  follow(): () => void {
    this.#followers += 1;
    if (this.#followers === 1) this.#showing();
    return () => {
      this.#followers -= 1;
      if (!this.#followers) this.#showing();
    };
  }

  #showing(): void {
    this.#say({ type: "showing", plan: this.#followers > 0 });
  }

  /** Go on after it was stopped. */
  async runPlan(): Promise<void> {
    this.plan = await post<PlanState>(`/api/jobs/${encodeURIComponent(this.key)}/plan`);
    await this.#fetchPlan();
  }

  async stopPlan(): Promise<void> {
    this.plan = (await (await ask("DELETE", `/api/jobs/${encodeURIComponent(this.key)}/plan`)).json()) as PlanState;
  }

  async #fetchPlan(): Promise<void> {
    const made = this.plan?.made ?? null;
    if (made === null || (this.#whole && this.#planOf === made)) return;
    this.#planOf = made;
    try {
      const answer = await get<PlanState & { plan: Plan | null }>(`/api/jobs/${encodeURIComponent(this.key)}/plan`);
      if (!answer.plan || this.#planOf !== made) return; // a later one was asked for since
      [this.#whole, this.#wholeOf] = [sharing(this.result, answer.plan), answer.made];
      if (this.#answer && this.#answer.revision <= (answer.made ?? -1)) this.#answer = null;
    } catch {
      this.#planOf = -1; // asked again with the next word about the plan
    }
  }

  /** Somebody else had that id first: the same thing under one that is free, unless later edits name it. */
  #otherId(entry: Entry | undefined, refusal: RefusalData): boolean {
    const change = entry?.body?.changes[0];
    if (refusal.code !== "taken" || !refusal.free || !change || entry!.body!.changes.length > 1 || change.do !== "put")
      return false;
    const id = change.entity.id;
    if (this.#queue.some((other) => JSON.stringify(other.body?.changes ?? []).includes(JSON.stringify(id))))
      return false;
    this.#enqueue("edit", {
      ...entry!.body!,
      edit: editId(),
      changes: [{ ...change, entity: { ...change.entity, id: refusal.free } }],
    });
    return true;
  }

  #rows(rows: Row[]): void {
    if (!this.#server) return;
    for (const row of rows) {
      if (row.revision <= this.revision) continue;
      this.#server = applied(this.#server, row.changes);
      this.revision = row.revision;
      const own = this.#queue.find((entry) => entry.edit === row.edit);
      if (own) own.landed = true;
    }
    const others = rows.filter((row) => row.person !== this.person);
    if (others.length) this.news = [...this.news, ...others].slice(-20);
    this.#show();
  }

  #tell(notices: Notice[]): void {
    if (notices.length) this.notices = [...this.notices, ...notices];
  }

  #take(edit: string): Entry | undefined {
    const entry = this.#queue.find((one) => one.edit === edit);
    this.#queue = this.#queue.filter((one) => one !== entry);
    void this.keeping.strike(edit);
    return entry;
  }

  #show(): void {
    this.waiting = this.#queue.length;
    if (!this.#server) return;
    const own = this.#queue.filter((entry) => entry.body && !entry.landed).flatMap((entry) => entry.body!.changes);
    this.job = applied(this.#server, own);
    clearTimeout(this.#saving);
    this.#saving = window.setTimeout(() => void this.keeping.see(this.revision, this.#server!), 400);
  }

  /** What undo and redo would do, whether the server has it yet or not. */
  get undoWords(): string | null {
    const last = this.#queue.at(-1);
    return this.waiting && last?.body ? last.body.label : this.undoLabel;
  }

  get redoWords(): string | null {
    return this.#undone.at(-1)?.label ?? this.redoLabel;
  }
}
