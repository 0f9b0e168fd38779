/** Mend, play again, and go on: runs with a second fault, with a treatment that does not last, with a fault that no note shows. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { DiagnosisModel } from '../../src/diagnosis/index.ts';
import type { AnswerBody } from '../../src/runs/schema.ts';
import type { StepView } from '../../src/runs/view.ts';
import { makeFaulty, type Patient } from '../support/patient.ts';
import { openRunsBench, type RunsBench } from '../support/runs-bench.ts';
import { type Choices, nextKey, walkToEnd } from '../support/walk.ts';

let bench: RunsBench;
beforeAll(async () => {
  bench = await openRunsBench();
});
afterAll(() => bench.dispose());

const tools = ['screwdriver', 'paper', 'second-person', 'own-mouthpiece'] as never;
const ownerSays: Choices = { 'owner-word': 'yes' };

const openWith = async (instrument: string) =>
  (await bench.runs.open({ instrument, person: 'director', tools }, nextKey())).id;

const modelOf = (instrument: string): DiagnosisModel => bench.content.instruments.get(instrument)!.model;

type InHand = {
  readonly patient: () => Patient;
  /** Takes the fault away, as its procedure would. */
  mend(fault: string): void;
};

function takeInHand(model: DiagnosisModel, ...faults: readonly string[]): InHand {
  let left = faults;
  return {
    patient: () => ({
      fault: left[0] ?? null,
      ...makeFaulty(
        model,
        left.map((fault) => ({ fault: model.instrument.fault(fault), severity: 'moderate' })),
      ),
    }),
    mend(fault) {
      left = left.filter((other) => other !== fault);
    },
  };
}

/** At this step the fault goes away with the answer. */
const mending = (inHand: InHand, fault: string, answer: string) => (): string => {
  inHand.mend(fault);
  return answer;
};

describe('two faults at once', () => {
  const [sticky, stuck, leak] = ['sticks@cup.gsharp', 'object@bore.bow', 'leaks@cup.d'];

  it('are mended one after the other, and both are told', async () => {
    const model = modelOf('alto-saxophone');
    const inHand = takeInHand(model, sticky, stuck);
    const id = await openWith('alto-saxophone');
    const { path, end } = await walkToEnd(bench.runs, id, inHand.patient, {
      ...ownerSays,
      'procedure.free-pad.try-it': mending(inHand, sticky, 'free'),
      'procedure.remove-object.look-again': mending(inHand, stuck, 'clear'),
    });
    const [first, second] = [path.indexOf('not-yet: go-on'), path.lastIndexOf('before-treat: ready')];
    expect(first).toBeGreaterThan(path.indexOf('procedure.free-pad.try-it: free'));
    expect(second).toBeGreaterThan(first);
    expect(end.outcome?.id).toBe('mended');
    expect(end.outcome?.lead).toBe(
      'It was this: the G sharp cup sticks. And this: something is stuck in the bow. It has been put right, and no note fails now.',
    );
    expect(end.outcome?.done).toHaveLength(2);
  });

  it('go to the bench with the second named, once the first is mended', async () => {
    const model = modelOf('alto-saxophone');
    const inHand = takeInHand(model, sticky, leak);
    const { end } = await walkToEnd(bench.runs, await openWith('alto-saxophone'), inHand.patient, {
      ...ownerSays,
      'procedure.free-pad.try-it': mending(inHand, sticky, 'free'),
    });
    expect(end.outcome?.id).toBe('bench');
    expect(end.outcome?.ticket?.suspects[0]?.title).toBe('The pad of the D cup does not seal');
    expect(end.outcome?.ticket?.adjustments).toEqual([
      'The pad of the G sharp cup and the rim under it were cleaned.',
    ]);
    expect(end.outcome?.explanation.join(' ')).toContain('have this fault: The pad of the D cup');
  });
});

describe('a treatment that is said to be done and changes nothing', () => {
  it('is done twice at most, and told once with how often', async () => {
    const inHand = takeInHand(modelOf('alto-saxophone'), 'water@bore.neck');
    const id = await openWith('alto-saxophone');
    const { path, end } = await walkToEnd(bench.runs, id, inHand.patient, ownerSays);
    expect(path.filter((step) => step === 'before-treat: ready')).toHaveLength(2);
    expect(end.outcome?.id).toBe('bench');
    expect(end.outcome?.done).toEqual([expect.stringMatching(/^The water was .*\. Done twice\.$/)]);
    expect(end.outcome?.ticket?.adjustments).toEqual(end.outcome?.done);
  });
});

describe('a note that still fails', () => {
  it('keeps the run from saying that it plays; the ticket says what may be left', async () => {
    const inHand = takeInHand(modelOf('alto-saxophone'), 'sticks@cup.gsharp');
    const id = await openWith('alto-saxophone');
    const shaky = (): Patient => {
      const patient = inHand.patient();
      const playNote = (fingering: string): Extract<AnswerBody, { type: 'note' }> => {
        const played = patient.playNote(fingering);
        return fingering === 'fg.D4' ? { type: 'note', fingering, answered: 'unsteady' } : played;
      };
      return { ...patient, playNote };
    };
    const { end } = await walkToEnd(bench.runs, id, shaky, {
      ...ownerSays,
      'procedure.free-pad.try-it': mending(inHand, 'sticks@cup.gsharp', 'free'),
    });
    expect(end.outcome?.id).toBe('mended-watch');
    expect(end.outcome?.lead).toMatch(
      /^Found and treated: the G sharp cup sticks\. These notes still fail: low D \(D4\)\. That may lie with the player/,
    );
    expect(end.outcome?.ticket?.suspects.length).toBeGreaterThan(0);
  });
});

describe('a fault that no note shows', () => {
  const trill = 'sticks@cup.trill-d';

  async function walkTrill(choices: (inHand: InHand) => Choices) {
    const inHand = takeInHand(modelOf('flute'), trill);
    const id = await openWith('flute');
    const seen: StepView[] = [];
    const runs = {
      ...bench.runs,
      view: async (code: string) => {
        const view = await bench.runs.view(code);
        seen.push(view.step);
        return view;
      },
    };
    return { ...(await walkToEnd(runs, id, inHand.patient, { ...ownerSays, ...choices(inHand) })), seen };
  }

  it('is proved mended at the part itself: no page asks to play nothing', async () => {
    const { path, end, seen } = await walkTrill((inHand) => ({
      'procedure.free-pad.try-it': mending(inHand, trill, 'free'),
      'by-hand': 'right',
    }));
    expect(path.at(-1)).toBe('by-hand: right');
    expect(end.outcome?.id).toBe('mended');
    for (const { kind, notes } of seen) if (kind === 'notes') expect(notes.length).toBeGreaterThan(0);
  });

  it('is looked for again where the part still shows it, and is not called mended', async () => {
    const { path, end } = await walkTrill(() => ({
      'procedure.free-pad.try-it': 'free',
      'by-hand': 'not-right',
    }));
    const after = path.slice(path.indexOf('by-hand: not-right') + 1);
    expect(after).toContain('confirm/lift@cup.trill-d: tacky');
    expect(end.outcome?.id).toBe('bench');
    expect(end.outcome?.done).toEqual([expect.stringContaining('Done twice.')]);
  });
});
