/** A "Why?" on paper, as a run would give it; instrument and findings are invented. */
import type { WhyView } from '../../../src/runs/why-schema.ts';

/** The view: one suspect that rose and one that fell, three notes, one check. */
export function readWhy(id: string, revision: number): WhyView {
  return {
    id,
    revision,
    instrument: { id: 'alto-saxophone', name: 'Alto saxophone' },
    sentences: ['Low C sharp failed while low D and low E spoke.'],
    moment: 'now',
    last: { kind: 'answer', asked: 'Tap the G sharp cup', answered: 'It moves' },
    suspects: [
      {
        kind: 'fault',
        fault: 'slack@link.fsharp-holds-gsharp',
        title: 'G sharp screw backed out',
        before: { probability: 0.6, words: 'about 6 in 10' },
        now: { probability: 0.9, words: 'about 9 in 10' },
        change: 'rose',
      },
      {
        kind: 'fault',
        fault: 'leaks@cup.csharp',
        title: 'Low C sharp pad leaks',
        before: { probability: 0.3, words: 'about 3 in 10' },
        now: { probability: 0.05, words: 'about 1 in 10' },
        change: 'fell',
      },
      {
        kind: 'nothing-wrong',
        fault: null,
        title: 'Nothing wrong at all',
        before: { probability: 0.05, words: 'about 1 in 10' },
        now: { probability: 0.045, words: 'fewer than 1 in 20' },
        change: 'same',
      },
      {
        kind: 'everything-else',
        fault: null,
        title: 'Everything else',
        before: { probability: 0.05, words: 'about 1 in 10' },
        now: { probability: 0.005, words: 'fewer than 1 in 20' },
        change: 'fell-a-little',
      },
    ],
    pattern: {
      notes: [
        {
          fingering: 'fg.Cs4',
          note: 'C#4',
          name: 'low C sharp',
          heard: 'silent',
          sounded: null,
          words: 'silent',
        },
        { fingering: 'fg.D4', note: 'D4', name: 'low D', heard: 'speaks', sounded: null, words: 'speaks' },
        { fingering: 'fg.E4', note: 'E4', name: 'low E', heard: 'speaks', sounded: null, words: 'speaks' },
      ],
      suspects: [
        {
          faults: ['slack@link.fsharp-holds-gsharp'],
          title: 'G sharp screw backed out',
          agrees: 3,
          heard: 3,
          predictions: [predict('fails'), predict('speaks'), predict('speaks')],
        },
        {
          faults: ['leaks@cup.csharp'],
          title: 'Low C sharp pad leaks',
          agrees: 2,
          heard: 3,
          predictions: [{ ...predict('speaks'), fits: 'disagrees' }, predict('speaks'), predict('speaks')],
        },
      ],
    },
    checks: [
      {
        check: 'press@cup.csharp',
        title: 'Press the low C sharp cup',
        isAskedNow: true,
        seconds: 30,
        duration: 'about 30 seconds',
        tells: 'Tells these two apart: “G sharp screw backed out” and “Low C sharp pad leaks”.',
        answers: [
          leads('same', 'As before', 'G sharp screw backed out', 'nearly all'),
          leads('worse', 'Worse', 'G sharp screw backed out', 'nearly all'),
          leads('better', 'Better', 'Low C sharp pad leaks', 'about 6 in 10'),
        ],
      },
    ],
  };
}

function predict(answers: 'speaks' | 'fails') {
  return { answers, jumpsUp: false, sounded: null, words: answers, fits: 'agrees' as const };
}

function leads(answer: string, label: string, lead: string, words: string) {
  return { answer, label, leads: lead, probability: 0.6, words };
}
