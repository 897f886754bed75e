/** Calls to the server; what is not 2xx is thrown as a refusal fit to be shown. */

import { language, say } from "../words/say";

export type RefusalData = {
  code: string;
  problem: string;
  where: string;
  remedy: string;
  source?: string;
  free?: string;
};

export class Refusal extends Error {
  constructor(
    readonly data: RefusalData,
    readonly status: number,
  ) {
    super(wordsOf(data));
  }
}

export type Me = {
  person: string;
  name: string;
  device: string;
  mark: string;
  version: string;
  schema_version: number;
  lan: boolean;
  tls: boolean;
  jobs: { id: string; title: string; revision: number }[];
  unreadable: ({ file: string } & RefusalData)[];
};

export const AWAY: RefusalData = {
  code: "away",
  problem: say("page_frame.the_server_does_not_answer"),
  where: "",
  remedy: say("page_frame.what_you_draw_is_kept_here"),
};

export function wordsOf(refusal: RefusalData): string {
  const sentence = (text: string) => text && text.charAt(0).toUpperCase() + text.slice(1).replace(/\.?$/, ".");
  const problem = refusal.where
    ? say("page_common.said_of", { what: refusal.where, words: refusal.problem })
    : refusal.problem;
  return [sentence(problem), sentence(refusal.remedy)].filter(Boolean).join(" ");
}

export async function ask(method: string, path: string, body?: unknown): Promise<Response> {
  const raw = body instanceof Blob || body instanceof ArrayBuffer || ArrayBuffer.isView(body);
  let answer: Response;
  try {
    answer = await fetch(path, {
      method,
      headers: {
        "accept-language": language(),
        ...(body === undefined || raw ? {} : { "content-type": "application/json" }),
      },
      body: body === undefined ? null : raw ? (body as BodyInit) : JSON.stringify(body),
    });
  } catch {
    throw new Refusal(AWAY, 0);
  }
  if (answer.ok) return answer;
  const data = await answer.json().catch(() => ({
    ...AWAY,
    problem: say("page_frame.the_server_answered", { status: answer.status }),
    remedy: say("page_frame.try_again"),
  }));
  throw new Refusal(data as RefusalData, answer.status);
}

export async function get<T>(path: string): Promise<T> {
  return (await ask("GET", path)).json() as Promise<T>;
}

export async function post<T>(path: string, body?: unknown): Promise<T> {
  return (await ask("POST", path, body)).json() as Promise<T>;
}

const facts = new Map<string, Promise<Record<string, string | number>[]>>();

/** A fact table, asked for once. */
export function factTable<T = Record<string, string | number>>(name: string): Promise<T[]> {
  if (!facts.has(name)) {
    const rows = get<Record<string, string | number>[]>(`/api/facts/${name}`);
    rows.catch(() => facts.delete(name));
    facts.set(name, rows);
  }
  return facts.get(name)! as Promise<T[]>;
}

const WITHOUT_WORDS = [1000, 1001, 1005, 1006, 1012]; // ends that say nothing but that the server is gone

/** What a socket's end says of why; null where it says no more than that the server is gone. */
export function saidAtEnd(end: { code: number; reason: string }): RefusalData | null {
  return end.reason && !WITHOUT_WORDS.includes(end.code) ? { ...AWAY, problem: end.reason } : null;
}

/** The address of a live socket, with the language that its sentences are to be in: a socket sends no headers. */
export function socketUrl(path: string): string {
  return `${location.protocol === "https:" ? "wss" : "ws"}://${location.host}${path}?language=${language()}`;
}
