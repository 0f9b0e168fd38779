import { describe, expect, it } from 'vitest';
import {
  addFinding,
  believe,
  decide,
  type Finding,
  isProved,
  provedBy,
  type RankedCheck,
  type Situation,
  startBelief,
  suspects,
  type TreatedFault,
} from '../../src/diagnosis/index.ts';
import { alto, desk, director, knowledge, model } from './support/alto.ts';
import {
  answer,
  exactly,
  hypothesisOf,
  playedExactly,
  playTestIds,
  runToVerdict,
} from './support/simulation.ts';

const fullScrew = 'slack@link.fsharp-holds-gsharp';
const story = (fault: string, situation: Situation, severity: 'slight' | 'moderate' | 'gross' = 'moderate') =>
  runToVerdict(hypothesisOf(fault, severity), situation, playedExactly(hypothesisOf(fault, severity)));

describe('the screw between the right hand and the G sharp cup, backed out', () => {
  // Trade check, common practice, no source: low D and C speak, low C sharp, B and B flat fail.
  const failing = ['C#4', 'B3', 'Bb3'].map((note): Finding => ({ note, answered: 'silent' }));
  const speaking = ['D4', 'C4'].map((note): Finding => ({ note, answered: 'speaks' }));

  it('is the first suspect after five notes, and is proved by a tap before anything is turned', () => {
    const findings = [...speaking, ...failing];
    const belief = believe(model, findings, 'director');
    expect(suspects(model, belief).faults[0]!.fault).toBe(fullScrew);
    expect(decide(model, belief, findings, director, [])).toEqual({
      kind: 'confirm',
      fault: fullScrew,
      check: 'tap@link.fsharp-holds-gsharp',
    });
    const tapped: Finding = { check: 'tap@link.fsharp-holds-gsharp', saw: 'stirs' };
    const after = addFinding(model, belief, tapped, 'director');
    expect(decide(model, after, [...findings, tapped], director, [])).toEqual({
      kind: 'treat',
      fault: fullScrew,
      procedure: 'turn-screw',
      direction: 'in',
    });
  });

  it.each(['slight', 'moderate', 'gross'] as const)('is treated within three checks when %s', (severity) => {
    const { verdict, asked } = story(fullScrew, director, severity);
    expect(verdict).toMatchObject({ kind: 'treat', fault: fullScrew });
    expect(asked.length).toBeLessThanOrEqual(3);
  });

  it('is not treated when the tap shows nothing', () => {
    const findings: Finding[] = [
      ...speaking,
      ...failing,
      { check: 'tap@link.fsharp-holds-gsharp', saw: 'still' },
    ];
    expect(decide(model, believe(model, findings, 'director'), findings, director, [])).not.toMatchObject({
      kind: 'treat',
    });
  });

  it('goes to the bench from the desk, which never has a screw turned by telephone', () => {
    expect(story(fullScrew, desk).verdict).toEqual({
      kind: 'bench',
      fault: fullScrew,
      reason: 'not-by-telephone',
    });
  });

  it('goes to the bench when the owner does not allow it, and when there is no screwdriver', () => {
    expect(story(fullScrew, { ...director, ownerAllows: false }).verdict).toMatchObject({
      kind: 'bench',
      reason: 'owner',
    });
    expect(story(fullScrew, { ...director, tools: ['paper'] }).verdict).toMatchObject({
      kind: 'bench',
      reason: 'no-tool',
    });
  });

  it('is treated by a helper too: the charts put the supervisor before the tool', () => {
    expect(story(fullScrew, { ...director, person: 'helper' }).verdict).toMatchObject({
      kind: 'treat',
      fault: fullScrew,
    });
  });
});

describe('other stories', () => {
  it('the same screw turned in too far is turned out again', () => {
    expect(story('tight@link.fsharp-holds-gsharp', director).verdict).toMatchObject({
      kind: 'treat',
      procedure: 'turn-screw',
      direction: 'out',
    });
  });

  it('a leaking palm key ends at the bench with its name on the ticket', () => {
    expect(story('leaks@cup.palm-d', director).verdict).toEqual({
      kind: 'bench',
      fault: 'leaks@cup.palm-d',
      reason: 'bench-work',
    });
  });

  it('a reed far too hard ends as a matter of set-up', () => {
    expect(story('set-up@setup.reed', director, 'gross').verdict).toMatchObject({
      kind: 'treat',
      fault: 'set-up@setup.reed',
      procedure: 'change-reed',
    });
  });

  it('a caller frees a sticking pad without a tool', () => {
    expect(story('sticks@cup.gsharp', desk).verdict).toMatchObject({ kind: 'treat', procedure: 'free-pad' });
  });

  it('a good instrument is called well, whoever asks, but not before what no note shows has been looked at', () => {
    for (const situation of [director, desk]) {
      const { verdict, asked } = runToVerdict(0, situation, playedExactly(0));
      expect(verdict).toEqual({ kind: 'healthy' });
      expect(asked.length).toBeGreaterThan(2);
      expect(asked.length).toBeLessThanOrEqual(12);
    }
  });

  it('an instrument is called well only where that is expected to cost less than the bench', () => {
    const { soundAt, missedMinutes, hiddenMinutes, needlessMinutes } = knowledge.people.rules;
    for (const start of [playedExactly(0), playedExactly(0, playTestIds.slice(0, 20))]) {
      for (const situation of [director, desk]) {
        const { belief, verdict } = runToVerdict(0, situation, start);
        const well = belief.mass[0]!;
        const isCheaper = (1 - well) * hiddenMinutes.value <= well * needlessMinutes.value;
        expect(verdict.kind === 'healthy').toBe(well >= soundAt.value || isCheaper);
      }
    }
    expect(missedMinutes.value).toBeGreaterThan(hiddenMinutes.value);
  });

  it('notes asked one by one count towards the most that is asked', () => {
    const findings = playedExactly(hypothesisOf('leaks@cup.palm-d', 'slight'));
    const belief = believe(model, findings, 'director');
    const most = knowledge.people.rules.mostChecks.value;
    const decided = (askedSingly: number) =>
      decide(model, belief, findings, director, [], { askedSingly }).kind;
    expect(['check', 'confirm']).toContain(decided(most - 1));
    expect(['check', 'confirm']).not.toContain(decided(most));
  });

  it('nothing is called well before enough notes have been played', () => {
    const findings = playedExactly(0, playTestIds.slice(0, 4));
    expect(decide(model, believe(model, findings, 'director'), findings, director, []).kind).not.toBe(
      'healthy',
    );
  });

  it('nobody who can play, no tool and nothing found ends at the bench', () => {
    const bare: Situation = { person: 'director', tools: [], canPlay: false, ownerAllows: true };
    const { verdict, asked } = runToVerdict(0, bare, []);
    expect(verdict.kind).toBe('bench');
    expect(asked.length).toBeLessThanOrEqual(knowledge.people.rules.mostChecks.value);
  });

  it('answers that contradict each other end at the bench, without an error', () => {
    const findings = alto.playTest.flatMap(({ note, id }): Finding[] => [
      { note, fingering: id, answered: 'speaks' },
      { note, fingering: id, answered: 'silent' },
    ]);
    const verdict = decide(model, believe(model, findings, 'director'), findings, director, []);
    expect(verdict).toMatchObject({ kind: 'bench', fault: null });
  });

  it('notes that fail in no pattern at all end at the bench as something else', () => {
    const findings = alto.playTest.map(
      ({ note, id }, index): Finding => ({
        note,
        fingering: id,
        answered: index % 2 === 0 ? 'silent' : 'speaks',
      }),
    );
    expect(decide(model, believe(model, findings, 'director'), findings, director, [])).toEqual({
      kind: 'bench',
      fault: null,
      reason: 'something-else',
    });
  });
});

describe('before the play test', () => {
  it('only what goes on the instrument is asked for, and not for long', () => {
    const findings: Finding[] = [];
    for (;;) {
      const verdict = decide(model, believe(model, findings, 'director'), findings, director, [], {
        groups: ['set-up'],
      });
      if (verdict.kind !== 'check' && verdict.kind !== 'confirm') {
        expect(verdict).toMatchObject({ kind: 'bench', reason: 'checks-ran-out' });
        break;
      }
      expect(model.check(verdict.check).group).toBe('set-up');
      findings.push(answer(0, verdict.check, exactly));
    }
    expect(findings.length).toBeGreaterThan(0);
    expect(findings.length).toBeLessThanOrEqual(knowledge.people.rules.mostSetUpChecks.value);
  });
});

describe('after a treatment', () => {
  const played = playedExactly(hypothesisOf(fullScrew));
  const proof: Finding = { check: 'tap@link.fsharp-holds-gsharp', saw: 'stirs' };

  it('what did not help is never offered again', () => {
    const treated: TreatedFault[] = [{ fault: fullScrew, exit: 'unchanged' }];
    const { verdict, asked } = runToVerdict(hypothesisOf(fullScrew), director, [...played, proof], {
      treated,
    });
    expect([verdict, ...asked].filter((one) => one.kind === 'treat')).toEqual([]);
    expect(verdict.kind).toBe('bench');
  });

  it('an instrument on which everything speaks again is well', () => {
    const treated: TreatedFault[] = [{ fault: fullScrew, exit: 'mended' }];
    const findings = playedExactly(0);
    expect(decide(model, believe(model, findings, 'director', treated), findings, director, treated)).toEqual(
      { kind: 'healthy' },
    );
  });

  it('a second fault is found once the first is mended', () => {
    const treated: TreatedFault[] = [{ fault: fullScrew, exit: 'mended' }];
    const other = hypothesisOf('sticks@cup.low-eb');
    const { verdict } = runToVerdict(other, director, playedExactly(other), { treated });
    expect(verdict).toMatchObject({ kind: 'treat', fault: 'sticks@cup.low-eb' });
  });
});

describe('a proof', () => {
  it('proves its own fault and is told by the finding', () => {
    const tapped: Finding = { check: 'tap@link.fsharp-holds-gsharp', saw: 'stirs' };
    expect(provedBy(model, tapped)).toEqual([fullScrew]);
    expect(provedBy(model, { note: 'C#4', answered: 'silent' })).toEqual([]);
    expect(provedBy(model, { check: 'tap@link.fsharp-holds-gsharp', saw: 'could-not-tell' })).toEqual([]);
  });

  it('of the second rank counts only when the first has been asked for', () => {
    const fault = model.hypotheses.faultNumber.get('sticks@cup.gsharp')!;
    const shut: Finding = { check: 'opens@cup.gsharp', saw: 'stays-shut' };
    expect(isProved(model, fault, [shut], director)).toBe(false);
    expect(
      isProved(model, fault, [shut, { check: 'lift@cup.gsharp', saw: 'could-not-tell' }], director),
    ).toBe(true);
  });

  it('is no substitute for likelihood: a tap alone, with every note speaking, turns no screw', () => {
    const findings: Finding[] = [
      ...playedExactly(0),
      { check: 'tap@link.fsharp-holds-gsharp', saw: 'stirs' },
    ];
    expect(decide(model, believe(model, findings, 'director'), findings, director, []).kind).not.toBe(
      'treat',
    );
  });
});

describe('a cache of rankings', () => {
  it('changes nothing but the time', () => {
    const cache = new Map<string, readonly RankedCheck[]>();
    const findings = playedExactly(hypothesisOf('leaks@cup.palm-d'));
    const belief = believe(model, findings, 'director');
    const plain = decide(model, belief, findings, director, []);
    expect(decide(model, belief, findings, director, [], { cache })).toEqual(plain);
    expect(decide(model, belief, findings, director, [], { cache })).toEqual(plain);
    expect(cache.size).toBe(1);
    decide(model, belief, findings, { ...director, tools: [] }, [], { cache });
    expect(cache.size).toBe(2);
  });

  it('is not needed when nothing is known', () => {
    expect(decide(model, startBelief(model), [], director, []).kind).toBe('check');
  });
});
