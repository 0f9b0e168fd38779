/** The ways through the real charts, told as they happen to people. */
import { describe, expect, test } from 'vitest';
import type { FlowEvent } from '../../src/flow/index.ts';
import { begin, fault, outcomeOf, proved, ready, treat } from './steps.ts';
import { realFlow as flow, recorded, say, sayAll, verdict } from './support.ts';

const atTheScrew = sayAll(flow, proved, [treat, 'ready', 'found', 'sure', 'fits', 'done']);

describe('a director with a slack screw', () => {
  test('turns a quarter, then an eighth, and ends with a mended instrument', () => {
    const kept = sayAll(flow, atTheScrew, ['turned', 'trace', 'turned', 'gone', 'yes', 'fine']);
    expect(kept.at).toBe('procedure.turn-screw.keep');
    const ended = sayAll(flow, kept, ['done', 'done', verdict('healthy')]);
    expect(outcomeOf(ended)).toMatchObject({ id: 'mended', ticket: false });
    expect(ended.context.repairs).toEqual([
      { procedure: 'turn-screw', fault, direction: 'in', turned: 3, exit: 'done', leaves: 'adjusted' },
    ]);
  });

  test('is told how far the screw has been turned, and which way is back', () => {
    const turning = sayAll(flow, atTheScrew, ['turned', 'better', 'turned', 'trace']);
    expect(flow.step(turning).ask).toContain('clockwise (in)');
    expect(flow.step(turning).ask).toContain('So far you have turned half a turn.');
    const back = say(flow, turning, 'stop');
    expect(flow.step(back).ask).toContain('Turn the screw back by half a turn, anticlockwise (out)');
  });

  test('goes too far, takes an eighth back, and keeps it there', () => {
    const state = sayAll(flow, atTheScrew, [
      'turned',
      'gone',
      'yes',
      'too-far',
      'turned',
      'good',
      'fine',
      'done',
    ]);
    expect(state.at).toBe('retest');
    expect(state.context.repairs.at(-1)).toMatchObject({ turned: 1, leaves: 'adjusted' });
  });

  test('goes too far, finds no place that is right for both, puts it back, and gets a ticket', () => {
    const back = sayAll(flow, atTheScrew, ['turned', 'gone', 'yes', 'too-far', 'turned', 'back']);
    expect(back.at).toBe('procedure.turn-screw.put-back');
    const ended = sayAll(flow, back, ['back', verdict('bench', { fault }), 'soon']);
    expect(outcomeOf(ended)).toMatchObject({ id: 'put-back-bench', ticket: true, urgency: 'this-week' });
    expect(ended.context.repairs.at(-1)).toMatchObject({ turned: 0, leaves: 'as-found' });
  });

  test('stops after three quarters of a turn that changed nothing', () => {
    const state = sayAll(flow, atTheScrew, ['turned', 'same', 'turned', 'same', 'turned', 'same']);
    expect(state.at).toBe('procedure.turn-screw.put-back');
    expect(flow.step(state).ask).toContain('three quarters of a turn');
  });

  test('stops after one whole turn, however much better it is', () => {
    const state = sayAll(flow, atTheScrew, [
      'turned',
      'better',
      'turned',
      'better',
      'turned',
      'better',
      'turned',
      'better',
    ]);
    expect(state.at).toBe('procedure.turn-screw.put-back');
  });

  test('with a screw that spins leaves it counted, and the bench is told', () => {
    const ended = sayAll(flow, atTheScrew, ['turned', 'better', 'spins', 'later']);
    expect(outcomeOf(ended)).toMatchObject({ id: 'bench', ticket: true });
    expect(ended.context.repairs.at(-1)).toMatchObject({ turned: 2, leaves: 'counted' });
  });

  test('who stops in the middle puts it back first, and chooses what becomes of it', () => {
    const state = sayAll(flow, atTheScrew, ['turned', 'stop', 'back']);
    expect(state.at).toBe('stopping');
    expect(outcomeOf(say(flow, state, 'stop'))).toMatchObject({ id: 'stopped' });
  });

  test('goes to the bench after two screws without a result', () => {
    const once = sayAll(flow, atTheScrew, [
      'turned',
      'same',
      'turned',
      'same',
      'turned',
      'same',
      'back',
      verdict('confirm', { fault: 'g' }),
      recorded('g'),
    ]);
    const other = verdict('treat', { fault: 'g', procedure: 'turn-screw', direction: 'out' });
    const twice = sayAll(flow, once, [
      other,
      'ready',
      'found',
      'sure',
      'fits',
      'done',
      'turned',
      'same',
      'turned',
      'same',
      'turned',
      'same',
      'back',
    ]);
    expect(twice.at).toBe('needed');
  });

  test('may not turn the same screw again without a new proof', () => {
    const after = sayAll(flow, atTheScrew, [
      'turned',
      'gone',
      'yes',
      'fine',
      'done',
      'done',
      verdict('check'),
      'go-on',
    ]);
    expect(flow.take(after, treat)).toEqual({
      refused: expect.stringContaining('a fault that has been proved'),
    });
  });
});

describe('what is refused and what is left alone', () => {
  test('a treatment on a guess', () => {
    const guessing = sayAll(flow, begin('director'), [...ready, verdict('healthy'), 'done']);
    expect(flow.take(guessing, treat)).toHaveProperty('refused');
  });

  test('a treatment for another fault than the one that was proved', () => {
    expect(flow.take(proved, { ...treat, fault: 'other' } as FlowEvent)).toHaveProperty('refused');
  });

  test.each([
    ['no procedure', { procedure: 'polish' }],
    ['no direction for a screw', { direction: undefined }],
  ])('a treatment with %s', (_, change) => {
    expect(flow.take(proved, { ...treat, ...change } as unknown as FlowEvent)).toHaveProperty('refused');
  });

  test('a rented instrument is not turned: the proof leads to the bench', () => {
    const rented = sayAll(flow, begin('director'), [
      'rental',
      'none',
      'fit',
      'done',
      'done',
      verdict('healthy'),
      'done',
      verdict('confirm', { fault }),
      recorded(fault),
      treat,
    ]);
    expect(rented.at).toBe('needed');
    expect(outcomeOf(say(flow, rented, 'later'))).toMatchObject({ id: 'bench' });
  });

  test('with an unknown owner the bench work is on hold', () => {
    const unsure = sayAll(flow, begin('director'), [
      'unsure',
      'none',
      'fit',
      'done',
      'done',
      verdict('healthy'),
      'done',
      verdict('bench'),
    ]);
    expect(outcomeOf(unsure)).toMatchObject({ id: 'bench-unknown', urgency: 'hold' });
  });

  test('a danger sign ends the run at once, and the outcome names it', () => {
    const bent = sayAll(flow, begin('helper'), ['school', 'yes', 'bent']);
    expect(outcomeOf(bent)).toMatchObject({
      id: 'bench-now',
      urgency: 'safety',
      lead: expect.stringContaining('plainly bent'),
    });
  });
});
