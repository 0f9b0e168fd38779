import { describe, expect, it } from 'vitest';
import { writeSentences } from '../../src/diagnosis/explanation-words.ts';
import {
  believe,
  describeSuspect,
  explain,
  type Finding,
  sayChance,
  sayNote,
  startBelief,
} from '../../src/diagnosis/index.ts';
import { fillIn } from '../../src/diagnosis/wording.ts';
import { alto, model } from './support/alto.ts';
import { hypothesisOf, playedExactly } from './support/simulation.ts';

const explained = (findings: readonly Finding[]) =>
  explain(model, believe(model, findings, 'director'), findings);
const fault = 'slack@link.fsharp-holds-gsharp';

describe('an explanation', () => {
  const tap: Finding = { check: 'tap@link.fsharp-holds-gsharp', saw: 'stirs' };
  const full = explained([...playedExactly(hypothesisOf(fault)), tap]);

  it('says which notes failed and which spoke, as a player says them', () => {
    expect([...full.failed].sort()).toEqual(['low B (B3)', 'low B flat (Bb3)', 'low C sharp (C#4)']);
    expect(full.spoke).toContain('low D (D4)');
    expect(full.spoke).toHaveLength(alto.playTest.length - 3);
  });

  it('says what only the failing notes have in common: the one link', () => {
    expect(full.shared).toBe('depend on the link “F sharp bar to the G sharp cup”');
  });

  it('names the lead, what it means, and how often as a frequency', () => {
    expect(full.lead).toMatchObject({ fault, chance: 'nearly all' });
    expect(full.sentences.join(' ')).not.toMatch(/%|decibel|probab|undefined|\{\{/);
  });

  it('gives reasons for the lead and against two runners-up', () => {
    expect(full.because.get(fault)!.join()).toContain('it stirs');
    expect(full.against).toHaveLength(2);
    for (const { because } of full.against)
      expect(because).toMatch(/speaks (strongly )?against it|all but rules it out|only rarer/);
  });

  it('counts the notes that use the suspected part where no single part tells them apart', () => {
    const leak = explained(playedExactly(hypothesisOf('leaks@cup.palm-d')));
    expect(leak.shared).toBe('');
    expect(leak.sentences.join(' ')).toMatch(
      /(All|\d+ of the) \d+ failing notes need the palm D cup to be closed, and so do(es)? \d+ of the \d+ that spoke\./,
    );
  });

  it('says when nothing tells the runner-up from the lead', () => {
    const stuck = explained(playedExactly(hypothesisOf('sticks@cup.gsharp')));
    expect(stuck.against.some(({ because }) => because.includes('only rarer'))).toBe(true);
  });

  it('says that every note spoke', () => {
    expect(explained(playedExactly(0)).sentences[0]).toMatch(/^Every note that was played spoke/);
  });

  it('says what leads where no fault does, and what is nearest', () => {
    const well = explained(playedExactly(0));
    expect(well.leads).toBe('nothing-wrong');
    expect(well.sentences[1]).toMatch(/instruments with these answers have nothing wrong at all\.$/);
    expect(well.sentences.join(' ')).not.toContain('have this fault');
  });

  it('does not hold one failing note against a good instrument, and says which it was', () => {
    const slip = playedExactly(0).map((finding) =>
      'note' in finding && finding.note === 'E5' ? { ...finding, answered: 'unsteady' as const } : finding,
    );
    const { leads, sentences } = explained(slip);
    expect(leads).toBe('nothing-wrong');
    expect(sentences.join(' ')).toContain(
      'Now and then a note fails on a good instrument too, as middle E (E5) did here',
    );
  });

  it('says that it is in no list where nothing in it explains the answers, and what speaks against the nearest', () => {
    const answers = ['silent', 'speaks', 'unsteady', 'speaks'] as const;
    const odd = alto.playTest.map(
      ({ id, note }, index): Finding => ({
        note,
        fingering: id,
        answered: answers[(index * 7) % answers.length]!,
      }),
    );
    const { leads, sentences } = explained(odd);
    expect(leads).toBe('something-else');
    const text = sentences.join(' ');
    expect(text).toContain('have something that is not on our list. No fault on it explains them well.');
    expect(text).toMatch(/The nearest of them is this: .* \(.*\)\. What speaks against it: /);
  });

  it('does not argue about a fault that does not stand out, and says when the answers contradict each other', () => {
    const { sentences: _, ...rest } = full;
    const more = { uses: '', share: 0, isContradictory: false, nearest: null };
    const nearest = { title: full.lead!.title, share: 0.03, against: '' };
    const faint = writeSentences({ ...rest, ...more, nearest }).join(' ');
    expect(faint).toContain(
      'Nothing stands out yet. The likeliest single fault, in fewer than 1 in 20: The screw',
    );
    expect(faint).not.toMatch(/have this fault|Why not this/);
    expect(faint).not.toContain('contradict');
    expect(writeSentences({ ...rest, ...more, isContradictory: true })).toEqual([
      full.sentences[0],
      expect.stringMatching(/^The answers contradict each other, whatever is wrong\./),
      ...full.sentences.slice(1),
    ]);
  });

  it('makes no pattern of a single note', () => {
    const { sentences } = explained([{ note: 'D4', answered: 'unsteady' }]);
    expect(sentences[0]).toBe('The one note that was played failed: low D (D4).');
    expect(sentences.join(' ')).not.toMatch(/in common|No one part/);
  });

  it('has nothing to say when nothing has been found', () => {
    expect(explain(model, startBelief(model), [])).toMatchObject({
      failed: [],
      spoke: [],
      shared: '',
      leads: null,
      lead: null,
      sentences: [],
    });
  });
});

describe('words', () => {
  it.each([
    [0.97, 'nearly all'],
    [0.8, 'about 8 in 10'],
    [0.52, 'about 5 in 10'],
    [0.06, 'about 1 in 10'],
    [0.01, 'fewer than 1 in 20'],
  ])('say the chance %d as "%s"', (chance, words) => {
    expect(sayChance(chance)).toBe(words);
  });

  it.each([
    ['Bb3', 'low B flat (Bb3)'],
    ['Db4', 'low C sharp (C#4)'],
    ['C#5', 'middle C sharp (C#5)'],
    ['G5', 'high G (G5)'],
    ['D6', 'high D (D6)'],
  ])('say %s as "%s"', (note, words) => {
    expect(sayNote(alto, note)).toBe(words);
  });

  it('fill sentences and refuse unknown places', () => {
    expect(fillIn('the {{ place }} opens', { place: 'G cup' })).toBe('The G cup opens');
    expect(() => fillIn('{{oops}}', { place: 'G cup' })).toThrow(/\{\{oops\}\}.*known: place/);
  });

  it('say of a link that lifts too soon that its part never lies at rest, of one that shuts too soon that it lands first', () => {
    expect(describeSuspect(model, 'tight@link.neck-ring').means).toContain('off its rest');
    expect(describeSuspect(model, 'tight@link.bb-closes-b').means).toContain('lands first');
  });
});
