import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { makePatient } from '../support/patient.ts';
import { openRunsBench, type RunsBench } from '../support/runs-bench.ts';
import { type Choices, nextKey, walkToEnd } from '../support/walk.ts';
import { give, walkTo } from '../support/walk-to.ts';

let bench: RunsBench;
beforeAll(async () => {
  bench = await openRunsBench();
});
afterAll(() => bench.dispose());

const everything = ['screwdriver', 'paper', 'second-person', 'own-mouthpiece'];
const gsharpScrew = 'slack@link.fsharp-holds-gsharp';
const ownerSays: Choices = { 'owner-word': 'yes' };

async function open(person: 'director' | 'helper' | 'desk', tools = everything): Promise<string> {
  const opening = {
    instrument: 'alto-saxophone',
    person,
    tools: tools as never,
    complaint: 'low notes fail',
  };
  return (await bench.runs.open(opening, nextKey())).id;
}

/** The screw story: the fault goes away when the third turn has been made. */
async function mendTheScrew(person: 'director' | 'helper', more: Choices = {}) {
  let patient = makePatient(bench.model, gsharpScrew, 'moderate', person);
  return walkToEnd(bench.runs, await open(person), () => patient, {
    ...ownerSays,
    'procedure.turn-screw.test': (visit) => {
      if (visit === 2) patient = makePatient(bench.model, null, 'moderate', person);
      return ['better', 'trace', 'gone'][visit] ?? 'gone';
    },
    ...more,
  });
}

describe('a run from complaint to outcome', () => {
  it('mends a slack screw in the band room, counting what was turned', async () => {
    const { path, end } = await mendTheScrew('director');
    expect(path).toContain('confirm/tap@link.fsharp-holds-gsharp: stirs');
    expect(end.outcome?.id).toBe('mended');
    expect(end.outcome?.done).toEqual([
      'Regulation screw: F sharp bar to the G sharp cup. Turned five eighths of a turn clockwise.',
    ]);
    expect(end.outcome?.explanation.join(' ')).toContain('low C sharp (C#4)');
    expect(end.outcome?.recheck.length).toBeGreaterThan(0);
  });

  it('says what was treated, and no more, when nobody plays the retest and another look is taken', async () => {
    const id = await walkTo(bench, (step) => step.id === 'retest', 'object@bore.bow');
    await give(bench, id, { type: 'choice', choice: 'done' });
    const sound = makePatient(bench.model, null);
    const { path, end } = await walkToEnd(bench.runs, id, () => sound, { 'not-yet': 'go-on' });
    expect(path.slice(0, 2)).toEqual(['not-yet: go-on', expect.stringContaining('isolate/')]);
    expect(end.outcome?.id).toBe('mended-watch');
    expect(end.outcome?.lead).toBe(
      'Most likely it was this: something is stuck in the bow. It is better now, but not proved with every note.',
    );
  });

  it('begins the play test at low D and goes down by semitones', async () => {
    const id = await open('director');
    const patient = makePatient(bench.model, gsharpScrew);
    const notes: string[] = [];
    for (;;) {
      const { step, revision } = await bench.runs.view(id);
      if (step.kind === 'notes') {
        notes.push(...step.notes.map(({ note }) => note));
        break;
      }
      const check = step.id.split('/')[1];
      const choice =
        check === undefined ? (ownerSays[step.id] ?? step.choices[0]!.id) : patient.answerCheck(check);
      await bench.runs.answer(id, {
        revision,
        key: nextKey(),
        answer: { type: 'choice', choice: choice as string },
      });
    }
    expect(notes.slice(0, 5)).toEqual(['D4', 'C#4', 'C4', 'B3', 'Bb3']);
  });

  it('puts a screw back by what was counted when turning does not help, and tells the bench', async () => {
    const { path, end } = await walkToEnd(
      bench.runs,
      await open('director'),
      () => makePatient(bench.model, gsharpScrew),
      {
        ...ownerSays,
        'procedure.turn-screw.test': 'same',
      },
    );
    expect(path.filter((step) => step === 'procedure.turn-screw.turn-quarter: turned')).toHaveLength(3);
    expect(path).toContain('procedure.turn-screw.put-back: back');
    expect(end.outcome?.id).toBe('put-back-bench');
    expect(end.outcome?.ticket?.adjustments.join(' ')).toContain('everything was put back as it was');
  });

  it('backs off an eighth when it has gone too far', async () => {
    const { path, end } = await mendTheScrew('director', {
      'procedure.turn-screw.too-far': (visit) => (visit === 0 ? 'too-far' : 'fine'),
    });
    expect(path).toContain('procedure.turn-screw.back-off: turned');
    expect(end.outcome?.done.join(' ')).toContain('half a turn clockwise');
  });

  it('sends a leaking palm key to the bench, with other fingerings only where they help', async () => {
    const { end } = await walkToEnd(
      bench.runs,
      await open('director'),
      () => makePatient(bench.model, 'leaks@cup.palm-d'),
      ownerSays,
    );
    expect(end.outcome?.id).toBe('bench');
    expect(end.outcome?.ticket?.job.name).toBe('One pad');
    expect(end.outcome?.ticket?.suspects[0]?.title).toContain('palm D cup');
  });

  it('finds a bad reed before any key is touched', async () => {
    let patient = makePatient(bench.model, 'set-up@setup.reed');
    const { path, end } = await walkToEnd(bench.runs, await open('director'), () => patient, {
      ...ownerSays,
      'procedure.change-reed.place': () => {
        patient = makePatient(bench.model, null);
        return 'done';
      },
    });
    expect(path.join(' ')).not.toContain('turn-screw');
    expect(end.outcome?.id).toBe('set-up-mended');
  });

  it('never lets the desk adjust: the caller gets a slot', async () => {
    const { path, end } = await walkToEnd(
      bench.runs,
      await open('desk', []),
      () => makePatient(bench.model, gsharpScrew, 'moderate', 'desk'),
      ownerSays,
    );
    expect(path.join(' ')).not.toContain('procedure.turn-screw');
    expect(end.outcome?.id).toBe('desk-booked');
    expect(end.outcome?.ticket?.job.hours).not.toBe('');
  });

  it('brings the helper to the supervisor before a tool touches the instrument', async () => {
    const { path, end } = await mendTheScrew('helper');
    expect(path.indexOf('supervisor: approved')).toBeGreaterThan(0);
    expect(path.indexOf('supervisor: approved')).toBeLessThan(
      path.indexOf('procedure.turn-screw.find-screw: found'),
    );
    expect(end.outcome?.id).toBe('mended');
  });

  it('leaves a rented instrument alone', async () => {
    const { path, end } = await walkToEnd(
      bench.runs,
      await open('director'),
      () => makePatient(bench.model, gsharpScrew),
      {
        owner: 'rental',
      },
    );
    expect(path.join(' ')).not.toContain('turn-screw');
    expect(end.outcome?.id).toBe('bench');
  });

  it('finds nothing on a sound instrument', async () => {
    const { end } = await walkToEnd(
      bench.runs,
      await open('director'),
      () => makePatient(bench.model, null),
      ownerSays,
    );
    expect(end.outcome?.id).toBe('nothing-found');
  });
});
