/** What differs by person and by what is to hand: helper, desk, somebody who cannot play, set-up causes, texts. */
import { describe, expect, test } from 'vitest';
import { begin, fault, outcomeOf, proved, ready, screwSetRight, treat } from './steps.ts';
import { realFlow as flow, recorded, say, sayAll, verdict } from './support.ts';

describe('a helper', () => {
  const helperProved = sayAll(flow, begin('helper'), [
    ...ready,
    verdict('healthy'),
    'done',
    verdict('confirm', { fault }),
    recorded(fault),
  ]);

  test('meets the supervisor before the screw, and again before the next one', () => {
    const waiting = sayAll(flow, helperProved, [treat, 'ready']);
    expect(waiting.at).toBe('supervisor');
    const done = sayAll(flow, waiting, ['approved', ...screwSetRight]);
    expect(done.context.flags.approved).toBe(false);
  });

  test('never hooks a spring, whoever says yes', () => {
    const state = say(flow, helperProved, verdict('treat', { fault, procedure: 'hook-spring' }));
    expect(state.at).toBe('needed');
  });

  test('changes a reed without asking', () => {
    const state = sayAll(flow, helperProved, [
      verdict('treat', { fault, procedure: 'change-reed' }),
      'ready',
    ]);
    expect(state.at).toBe('procedure.change-reed.wet');
  });
});

describe('the desk', () => {
  const calling = sayAll(flow, begin('desk'), ['school', 'known', 'none', 'not-known', verdict('healthy')]);

  test('speaks of the caller, and skips what only hands can do', () => {
    expect(calling.at).toBe('play-test');
    expect(flow.step(calling).ask).toContain('Ask the caller');
  });

  test('books what needs a screw, even when it is proved', () => {
    const ended = sayAll(flow, calling, [
      'done',
      verdict('confirm', { fault }),
      recorded(fault),
      treat,
      'now',
    ]);
    expect(outcomeOf(ended)).toMatchObject({ id: 'desk-booked', urgency: 'now', ticket: true });
  });

  test('talks the caller through a change of reed', () => {
    const reed = 'set-up@setup.reed';
    const ended = sayAll(flow, calling, [
      'done',
      verdict('confirm', { fault: reed }),
      recorded(reed),
      verdict('treat', { fault: reed, procedure: 'change-reed' }),
      'ready',
      'done',
      'done',
      'even',
      'better',
      'done',
      verdict('healthy'),
    ]);
    expect(outcomeOf(ended)).toMatchObject({ id: 'desk-talked-through' });
  });
});

describe('somebody who cannot play it here', () => {
  const quiet = sayAll(flow, begin('director'), [
    'school',
    'yes',
    'none',
    'fit',
    'cannot-play',
    'done',
    verdict('healthy'),
  ]);

  test('is not asked for notes, and the diagnosis is told', () => {
    expect(quiet.at).toBe('weigh');
    expect(flow.situation(quiet)).toEqual({
      person: 'director',
      tools: ['screwdriver'],
      canPlay: false,
      ownerAllows: true,
      isPlayTestDue: false,
    });
  });

  test('ends with something to watch, because no note has proved it', () => {
    const ended = sayAll(flow, quiet, [
      verdict('confirm', { fault }),
      recorded(fault),
      treat,
      'ready',
      ...screwSetRight,
      'right',
    ]);
    expect(outcomeOf(ended)).toMatchObject({ id: 'mended-watch', ticket: true });
  });
});

describe('set-up causes', () => {
  const reed = 'set-up@setup.reed';
  const steps = [
    verdict('check'),
    recorded(),
    verdict('confirm', { fault: reed }),
    recorded(reed),
    verdict('treat', { fault: reed, procedure: 'change-reed' }),
    'ready',
    'done',
    'done',
    'even',
    'better',
  ];

  test('are treated before the play-test, which then still comes', () => {
    const state = sayAll(flow, begin('director'), [...ready, ...steps]);
    expect(state.at).toBe('play-test');
    expect(outcomeOf(sayAll(flow, state, ['done', verdict('healthy')]))).toMatchObject({
      id: 'set-up-mended',
    });
  });

  test('are not named as the whole story when a screw was turned as well', () => {
    const state = sayAll(flow, begin('director'), [
      ...ready,
      ...steps,
      'done',
      verdict('confirm', { fault }),
      recorded(fault),
      treat,
      'ready',
      ...screwSetRight,
      'done',
      verdict('healthy'),
    ]);
    expect(outcomeOf(state)).toMatchObject({ id: 'mended' });
  });
});

describe('texts', () => {
  test('speak of the look-alike only where there is one', () => {
    const state = sayAll(flow, proved, [treat, 'ready', 'found']);
    expect(flow.step(state, () => true).ask).toContain('{{lookAlike}}');
    expect(flow.step(state, (name) => name !== 'lookAlike').ask).not.toContain('lookAlike');
  });

  test('announce a procedure with what it will do, what it needs and its cautions', () => {
    const step = flow.step(say(flow, proved, treat));
    expect(step.ask).toContain('You will turn one small screw a little at a time, clockwise (in)');
    expect(step.ask).toContain('a small flat screwdriver');
    expect(step.cautions.map(({ text }) => text).join()).toContain('Change one thing only');
  });
});
