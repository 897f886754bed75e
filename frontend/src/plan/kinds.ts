/** What the things on a sheet are called, in the middle of a sentence. */

import { say } from "../words/say";

const WORDS: Record<string, string> = {
  wall: say("page_plan.kind_wall"),
  opening: say("page_plan.kind_opening"),
  room: say("page_plan.kind_room"),
  body: say("page_plan.kind_body"),
  outlet: say("page_plan.kind_outlet"),
  meeting_point: say("page_plan.kind_meeting_point"),
  box: say("page_plan.kind_box"),
  reading: say("page_plan.kind_reading"),
  run: say("page_plan.kind_run"),
};

export function kindWord(kind: string): string {
  return WORDS[kind] ?? kind;
}
