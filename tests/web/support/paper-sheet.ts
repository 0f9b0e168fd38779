/** A short invented sheet for the page tests: one question, one ending. */
import type { PaperRequest, PaperSheet } from '../../../src/web/paper-sheet.ts';

export function readPaperSheet({ instrument, person }: PaperRequest): PaperSheet {
  return {
    instrument: { id: instrument, name: 'Alto saxophone' },
    person,
    complaint: 'Low C sharp fails',
    edition: 'e1',
    covered: 0.9,
    coverage: 'About 9 in 10 instruments with this complaint are led to one named part by this sheet.',
    fill: 0.8,
    before: [{ number: 1, ask: 'Is anything sharp?', ways: [] }],
    cautions: ['Look before you touch.'],
    notes: [{ name: 'low C sharp', note: 'C#4', words: 'Left hand 1 2 3', fails: true }],
    start: 'go to 1',
    questions: [
      {
        number: 1,
        check: 'tap@link.fsharp-holds-gsharp',
        title: 'Tap the G sharp cup',
        ask: 'Tap it. Does it stir?',
        askedAt: null,
        isProof: true,
        answers: [
          { saw: 'yes', label: 'It stirs', when: '', to: 'ending', number: 1, words: 'end 1' },
          { saw: 'no', label: 'It stays', when: '', to: 'bench', number: null, words: 'to the bench' },
        ],
      },
    ],
    endings: [
      {
        number: 1,
        kind: 'treat',
        fault: 'slack@link.fsharp-holds-gsharp',
        title: 'The screw is backed out',
        text: ['It holds the cup too late.'],
        cautions: ['One screw only.'],
        adjusts: true,
        words: ['The owner has said yes.'],
        steps: [
          {
            number: 1,
            ask: 'Turn it.',
            ways: [{ label: 'Turned', when: '', to: 'retest', number: null, words: 'play again' }],
            boxes: 8,
          },
        ],
        stepsAt: null,
        retest: 'softly: low C sharp.',
      },
    ],
  };
}
