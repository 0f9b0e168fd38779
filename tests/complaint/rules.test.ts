/** The rules by which words find their notes and parts, each on the instruments that it was made for. Our own examples. */
import { describe, expect, test } from 'vitest';
import { type Reading, readComplaint } from '../../src/complaint/index.ts';
import { content, instrumentOf, tell, vocabulary } from './support/reading.ts';

function read(on: string, text: string): Reading {
  const { instrument, model } = instrumentOf(on);
  return readComplaint(instrument, model, vocabulary, text);
}

function found(on: string, text: string, isLikely: boolean): string[] {
  return read(on, text)
    .proposals.filter((proposal) => proposal.isLikely === isLikely)
    .flatMap(({ findings }) => findings.map(tell));
}

const likely = (on: string, text: string) => found(on, text, true);
const perhaps = (on: string, text: string) => found(on, text, false);

describe('parts', () => {
  test.each([
    ['bassoon', 'the bocal is loose', 'wobble@joint.bocal=moves'],
    ['bassoon', 'the wing joint is loose', 'wobble@joint.wing=moves'],
    ['bb-clarinet', 'the middle joint wobbles', 'wobble@joint.middle=moves'],
    ['flute', 'the low C key rubs', 'look@cup.c-low=bent'],
    ['flute', 'the low C key pad fell out', 'look@cup.c-low=pad-gone'],
    ['double-horn', 'the thumb lever is stuck', 'work-lever@valve.thumb=stuck'],
    ['sousaphone', 'the neck is stuck', 'part-joint@joint.neck=stuck'],
  ])('on the %s "%s" is %s', (on, text, finding) => {
    expect(likely(on, text)).toEqual([finding]);
  });

  test('of which none is told apart are asked for by the check that looks at all of them', () => {
    expect(likely('trumpet', 'a valve sticks')).toEqual(['work-all-valves@instrument=slow']);
    expect(perhaps('trumpet', 'a valve sticks')).toHaveLength(3);
    expect(likely('trumpet', 'the second valve sticks')).toEqual(['work-valve@valve.second=slow']);
    // With one valve alone there is nothing to tell apart.
    expect(likely('trombone-f-attachment', 'the valve sticks')).toEqual(['work-lever@valve.trigger=slow']);
  });

  test('that only do not work are offered in every way in which they may fail, none as the likely one', () => {
    expect(likely('tuba', 'the third valve is not working')).toEqual([]);
    expect(perhaps('tuba', 'the third valve is not working').toSorted()).toEqual([
      'work-valve@valve.third=slow',
      'work-valve@valve.third=stays-down',
      'work-valve@valve.third=stuck',
    ]);
  });

  test('are said in a sentence that fits them', () => {
    const says = (on: string, text: string) => read(on, text).proposals[0]?.says;
    expect(says('trumpet', 'the second valve won’t go down')).toBe('The second valve does not go down.');
    expect(says('trombone', 'the slide will not move')).toBe('The hand slide drags, scrapes or sticks.');
    expect(says('flute', 'the F key sticks')).toBe('The F cup clings, then lets go.');
  });
});

describe('notes', () => {
  test('of a name in a stretch are the ones that lie there', () => {
    expect(likely('bb-clarinet', 'B flat in the staff is stuffy')).toEqual(['Bb4=unsteady']);
  });

  test('of the narrower of two stretches are what is said of that one', () => {
    const text = 'high D and up is weak, high F sharp and up is silent';
    expect(likely('flute', text)).toContain('F#6=silent');
    expect(likely('flute', text)).toContain('D6=unsteady');
  });

  test('that nobody names are none', () => {
    for (const text of [
      'some notes are silent',
      'certain notes won’t come out',
      'nothing comes out below a certain note',
    ])
      expect([text, read('flute', text).proposals]).toEqual([text, []]);
  });

  test('with a valve are those that press it', () => {
    const stuffy = likely('trumpet', 'every note with the second valve is stuffy');
    expect(stuffy.length).toBeGreaterThan(3);
    const { instrument } = instrumentOf('trumpet');
    for (const finding of stuffy) {
      const note = finding.split('=')[0]!;
      const standard = instrument.fingerings.find((one) => one.kind === 'standard' && one.note === note)!;
      expect([note, standard.touches.includes('touch.second')]).toEqual([note, true]);
    }
  });

  test('that jump to the next register are heard there: a twelfth up on the clarinet, the next partial on brass', () => {
    const heard = (on: string, text: string) =>
      read(on, text).proposals[0]?.findings.map((finding) => 'sounded' in finding && finding.sounded);
    expect(heard('bb-clarinet', 'low E jumps to the next register')).toEqual(['B4']);
    expect(heard('trumpet', 'low C jumps to the next partial')).toEqual(['G4']);
    expect(heard('flute', 'low D jumps up an octave')).toEqual(['D5']);
  });

  test('do not fail because "a mute" or "as if" begin as notes do', () => {
    expect(likely('trumpet', 'as if it had a mute in it').map((one) => one.split('=')[1])).toEqual(
      Array.from({ length: 6 }, () => 'unsteady'),
    );
  });
});

describe('entries for some families', () => {
  test('are read there alone: a gurgle tells of water, but not on a saxophone', () => {
    for (const [id, { instrument }] of content.instruments) {
      const water = likely(id, 'it gurgles').includes('water-heard@instrument=yes');
      expect([id, water]).toEqual([id, instrument.family !== 'saxophone']);
    }
  });
});

test('words that may be left out do not hide an expression that has one of them in it', () => {
  // "The" stands in the one expression and may be left out of the other.
  for (const text of ['low notes jump to the upper register', 'low notes jump to upper register'])
    expect([text, likely('bb-clarinet', text)]).toEqual([text, ['E3=wrong', 'F3=wrong']]);
});
