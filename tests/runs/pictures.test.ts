/** Which picture goes with which step of a run, and that it shows what the step says. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { StepView } from '../../src/runs/view.ts';
import { openRunsBench, type RunsBench } from '../support/runs-bench.ts';
import { give, walkTo } from '../support/walk-to.ts';

let bench: RunsBench;
beforeAll(async () => {
  bench = await openRunsBench();
});
afterAll(() => bench.dispose());

const at = (name: string) => (step: StepView) => step.id === `procedure.turn-screw.${name}`;
const choose = (id: string, choice: string) => give(bench, id, { type: 'choice', choice });
const wordsAt = async (id: string) => (await bench.runs.view(id)).step.picture?.words ?? '';

describe('turning a screw', () => {
  it('shows what is to be turned now, as the chart counts it, and what has been turned', async () => {
    const id = await walkTo(bench, at('turn-quarter'));
    expect(await wordsAt(id)).toContain('Now 2 eighths (a quarter turn)');
    await choose(id, 'turned');
    await choose(id, 'trace');
    const words = await wordsAt(id);
    expect(words).toContain('in, clockwise');
    expect(words).toContain('Now 1 eighth (an eighth of a turn)');
    expect(words).toContain('Turned so far: 2 of 8 eighths');
  });

  it('shows the turn the other way when an eighth is taken back', async () => {
    const id = await walkTo(bench, at('turn-quarter'));
    await choose(id, 'turned');
    await choose(id, 'worse');
    const { step } = await bench.runs.view(id);
    expect(step.title).toBe('An eighth back');
    expect(step.picture?.words).toContain('back out, anticlockwise');
    expect(step.picture?.words).toContain('Now 1 eighth back (an eighth of a turn), then stop and test');
  });

  it('shows all turns taken back, down to where the screw stood, when it is put back', async () => {
    const id = await walkTo(bench, at('turn-quarter'));
    for (const choice of ['turned', 'better', 'turned']) await choose(id, choice);
    await choose(id, 'stop');
    const { step } = await bench.runs.view(id);
    expect(step.title).toBe('Put it back');
    expect(step.picture?.words).toContain('Now 4 eighths back (half a turn), then it stands as at first');
  });

  it('shows the test of the opposite fault where it asks whether it has gone too far', async () => {
    const id = await walkTo(bench, at('too-far'));
    const { step } = await bench.runs.view(id);
    expect(step.picture?.words).toContain('they must touch down together');
    expect(step.picture?.words).toContain('the G sharp cup and the F sharp cup');
  });
});

describe('a check', () => {
  const pictureOf = async (kind: string, fault: string) => {
    const id = await walkTo(
      bench,
      ({ id: step }) => step.split('/')[1]?.startsWith(`${kind}@`) === true,
      fault,
    );
    const { step } = await bench.runs.view(id);
    expect(step.id).toContain(`/${kind}@`);
    return step;
  };

  it('with paper shows the strip under the pad, and no cup that should not stir', async () => {
    const { picture } = await pictureOf('paper', 'leaks@cup.d');
    expect(picture?.words).toContain('A strip of paper lies between the pad');
    expect(picture?.words).not.toContain('stir');
  });

  it('that is played shows the fingers on the instrument', async () => {
    const { picture } = await pictureOf('play', 'leaks@cup.low-b');
    expect(picture?.words).toMatch(/^Press left hand/);
    expect(picture?.svg).toContain('picture-press');
  });
});

it('draws, for every check of the instrument, no touch as held that its sentence does not ask to hold', () => {
  for (const check of bench.model.checks) {
    if (check.watch === undefined || check.kind === 'press-shut') continue;
    for (const touch of check.hold ?? []) {
      const name = bench.content.instruments.get('alto-saxophone')!.instrument.part(touch).name;
      expect(check.ask, check.id).toContain(name);
    }
  }
});
