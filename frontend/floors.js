/** Folders of src, lowest first: an import goes down or stays. What lies in src itself (the app) stands on all of them. */
export const FLOORS = ["words", "maths", "job", "net", "plan", "parts", "meter", "solid", "pages"];
