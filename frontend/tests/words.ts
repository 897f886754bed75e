/** Before every file of tests: the words, as a page has them before anything is said. */
import { LANGUAGES } from "../src/words/catalogue";

/** Both languages; again where modules are read anew, which know nothing. */
export async function learnWords(): Promise<void> {
  const { learn, speak } = await import("../src/words/say");
  await Promise.all(LANGUAGES.map(learn));
  speak("en");
}

await learnWords();
