/** How much room words take on the sheet, in lines of a column; measured against real pages by the tests. */

/** Letters that go onto a line of a column, and lines that two pages of the smaller paper have in both columns; estimates. */
const lettersPerLine = 58;
const linesPerSheet = 218;

type Spoken = {
  readonly title: string;
  readonly text: readonly string[];
  readonly cautions?: readonly string[];
  readonly words?: readonly string[];
  readonly retest?: string;
  readonly steps: readonly {
    readonly ask: string;
    readonly ways: readonly { readonly label: string; readonly words: string }[];
    readonly boxes?: number;
  }[];
};

const linesOf = (text: string): number => Math.ceil(text.length / lettersPerLine);
const sumOf = (lines: readonly number[]): number => lines.reduce((sum, count) => sum + count, 0);

/** The lines that a question or an ending takes, with the space around it. */
export function spaceOf({ title, text, cautions = [], words = [], retest = '', steps }: Spoken): number {
  const told = [title, ...text, cautions.join(' '), ...words, retest];
  const stepped = steps.map(
    ({ ask, ways, boxes = 0 }) =>
      linesOf(ask) +
      linesOf(ways.map((way) => `${way.label} → ${way.words}  `).join('')) +
      (boxes > 0 ? 1 : 0),
  );
  return 1 + sumOf(told.map(linesOf)) + sumOf(stepped);
}

/** The lines that are left for questions and endings below the head of the sheet. */
export function roomFor(head: {
  readonly before: readonly {
    readonly ask: string;
    readonly ways: readonly { label: string; words: string }[];
  }[];
  readonly cautions: readonly string[];
  readonly notes: readonly unknown[];
}): number {
  const { before, cautions, notes } = head;
  const steps = before.map(({ ask, ways }) =>
    linesOf(ask + ways.map(({ label, words }) => label + words).join('')),
  );
  return linesPerSheet - sumOf(steps) - linesOf(cautions.join(' ')) - notes.length * 1.5 - 24;
}
