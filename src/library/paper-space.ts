/** How much room words take on the sheet, in lines of a column; the browser's tests hold real pages to it. */

/** Letters that go onto a line of a column, in a wide face. */
const lettersPerLine = 56;
/** Lines that two pages of the smaller paper hold in both columns, less what column ends leave empty. */
const linesPerSheet = 262;
/** Column lines of title, headings, lines to sign and small print. */
const linesOfFrame = 34;
/** Column lines of a line in the table of notes, which goes over both columns and has rules; letters in its two wide columns. */
const linesPerTableLine = 2.15;
const lettersPerName = 20;
const lettersPerFingering = 56;

type Way = { readonly label: string; readonly when: string; readonly words: string };

const linesOf = (text: string): number => Math.ceil(text.length / lettersPerLine);
const sumOf = (lines: readonly number[]): number => lines.reduce((sum, count) => sum + count, 0);
const sayWays = (ways: readonly Way[]): string =>
  ways.map(({ label, when, words }) => `${when === '' ? label : when} → ${words}. `).join('');

/** The lines of a heading and the answers below it, each of them on a line of its own, with the space around. */
export function spaceOfQuestion({ title, answers }: { title: string; answers: readonly Way[] }): number {
  return 1 + linesOf(title) + sumOf(answers.map(({ label, words }) => linesOf(`   ${label} → ${words}`)));
}

/** The lines of running text, each paragraph for itself. */
export function spaceOfTexts(paragraphs: readonly string[]): number {
  return sumOf(paragraphs.map(linesOf));
}

/** The lines of the steps of a treatment. */
export function spaceOfSteps(
  steps: readonly { readonly ask: string; readonly ways: readonly Way[]; readonly boxes: number }[],
): number {
  return sumOf(
    steps.map(({ ask, ways, boxes }) => {
      const labels = new Set(ways.map(({ label }) => label));
      const told = [...labels].map((label) => {
        const own = ways.filter((way) => way.label === label);
        return own.length > 1
          ? linesOf(label) + sumOf(own.map((way) => linesOf(sayWays([way]))))
          : linesOf(sayWays(own));
      });
      return linesOf(`   ${ask}`) + (labels.size > 1 ? sumOf(told) : 0) + (boxes > 0 ? 1 : 0);
    }),
  );
}

/** The share of two pages that is taken where so many lines of the room are used. */
export function shareTaken(room: number, used: number): number {
  return (linesPerSheet - room + used) / linesPerSheet;
}

/** The lines that are left for questions and endings below the head of the sheet. */
export function roomFor(head: {
  readonly before: readonly { readonly ask: string; readonly ways: readonly Way[] }[];
  readonly cautions: readonly string[];
  readonly notes: readonly { readonly name: string; readonly words: string }[];
  readonly coverage: string;
}): number {
  const { before, cautions, notes, coverage } = head;
  const asked = before.map(({ ask, ways }) => 1 + linesOf(`${ask} ${sayWays(ways)}`));
  const tableLines = notes.map(({ name, words }) =>
    Math.max(Math.ceil(name.length / lettersPerName), Math.ceil(words.length / lettersPerFingering)),
  );
  return (
    linesPerSheet -
    linesOfFrame -
    sumOf(asked) -
    linesOf(cautions.join(' ')) -
    linesOf(coverage) -
    (sumOf(tableLines) + 1) * linesPerTableLine
  );
}
