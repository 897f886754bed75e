import { expect, it } from "vitest";
import { jobsSought } from "./sought";

const JOBS = [
  { id: "mill-house", title: "12 Mill Lane, Smith" },
  { id: "ecole", title: "Vieille École" },
  { id: "mill-2", title: "Flat over the mill" },
];
const ids = (sought: string) => jobsSought(JOBS, sought).map((one) => one.id);

it("finds jobs by all words that are typed, in any case and without their accents", () => {
  expect(ids("")).toEqual(["mill-house", "ecole", "mill-2"]);
  expect(ids("  MILL ")).toEqual(["mill-house", "mill-2"]);
  expect(ids("flat mill")).toEqual(["mill-2"]);
  expect(ids("ecole")).toEqual(["ecole"]);
  expect(ids("École v")).toEqual(["ecole"]);
  expect(ids("house-")).toEqual([]);
});
