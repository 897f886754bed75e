/** Jobs by their words. */

type Named = { id: string; title: string };

const plain = (text: string): string =>
  text
    .normalize("NFD")
    .replace(/\p{Mn}/gu, "")
    .toLowerCase();

/** Those that hold every word that is looked for, in title or id, whatever its case and accents; in their order. */
export function jobsSought<T extends Named>(jobs: readonly T[], sought: string): T[] {
  const words = plain(sought).split(/\s+/).filter(Boolean);
  return jobs.filter(({ id, title }) => words.every((word) => plain(`${title} ${id}`).includes(word)));
}
