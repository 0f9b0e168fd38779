import { describe, expect, test } from 'vitest';
import { longestComplaint } from '../../src/complaint/index.ts';
import { likely, perhaps, read } from './support/reading.ts';

describe('names of notes', () => {
  test.each([
    ['Bb', 'Bb4'],
    ['B flat', 'Bb4'],
    ['b-flat', 'Bb4'],
    ['B♭', 'Bb4'],
    ['bflat', 'Bb4'],
    ['A sharp', 'Bb4'],
    ['A#', 'Bb4'],
    ['a♯', 'Bb4'],
    ['low Bb', 'Bb3'],
    ['low C#', 'C#4'],
    ['bottom B', 'B3'],
    ['middle D', 'D5'],
    ['high F sharp', 'F#6'],
    ['D with the octave key', 'D5'],
    ['D without the octave key', 'D4'],
    ['C#4', 'C#4'],
    ['Db4', 'C#4'],
    ['E natural 4', 'E4'],
    ['the A', 'A4'],
  ])('"%s" is %s', (name, note) => {
    expect(likely(`${name} does not speak`)).toEqual([`${note}=silent`]);
  });

  test('a bare letter is offered in its other octaves too, never as the likely reading', () => {
    expect(likely('B natural won’t play')).toEqual(['B4=silent']);
    expect(perhaps('B natural won’t play')).toEqual([['B3=silent'], ['B5=silent']]);
  });

  test('a note that the instrument does not have is said so, and proposes nothing', () => {
    expect(read('C2 is silent').proposals).toEqual([]);
    expect(read('C2 is silent').understood[0]?.as).toBe('C2, which this instrument does not have');
  });
});

describe('stretches of notes', () => {
  test('"nothing comes out below D" is everything beneath it, and D itself speaks', () => {
    expect(likely('nothing comes out below D')).toEqual([
      'Bb3=silent',
      'B3=silent',
      'C4=silent',
      'C#4=silent',
      'D4=speaks',
    ]);
  });

  test('"everything below G" alone is offered as failing, as one reading', () => {
    expect(likely('everything below G')).toEqual([]);
    expect(perhaps('everything below G')[0]).toContain('F#4=unsteady');
    expect(perhaps('everything below G')[0]).not.toContain('G4=unsteady');
  });

  test.each([
    ['low notes gurgle', ['Bb3=unsteady', 'B3=unsteady']],
    ['from D down nothing speaks', ['Bb3=silent', 'B3=silent', 'C4=silent', 'C#4=silent', 'D4=silent']],
    ['the palm key notes are weak', ['D6=unsteady', 'Eb6=unsteady', 'E6=unsteady', 'F6=unsteady']],
    ['low C, C# and B squeak, D is fine', ['B3=unsteady', 'C4=unsteady', 'C#4=unsteady', 'D4=speaks']],
    ['middle D is fine but low D gurgles', ['D5=speaks', 'D4=unsteady']],
  ])('"%s"', (text, findings) => {
    expect(likely(text)).toEqual(findings);
  });

  test('of a long stretch a few notes are put forward, spread over it', () => {
    expect(likely('no high notes come out')).toHaveLength(6);
    expect(likely('nothing works')).toHaveLength(6);
  });
});

describe('what is wrong with a part', () => {
  test.each([
    ['sticky g sharp', 'lift@cup.gsharp=tacky'],
    ['the low Eb key is bent', 'look@cup.low-eb=bent'],
    ['G sharp key flops', 'lift@cup.gsharp=floppy'],
    ['the high F palm key does not close', 'light@cup.palm-f=shines'],
  ])('"%s" is %s', (text, finding) => {
    expect(likely(text)).toEqual([finding]);
  });

  test('where several parts can be meant none is the likely one', () => {
    expect(likely('the octave key is stuck')).toEqual([]);
    expect(perhaps('the octave key is stuck').flat().toSorted()).toEqual([
      'opens@cup.oct-body=stays-shut',
      'opens@cup.oct-neck=stays-shut',
    ]);
  });
});

describe('what went before', () => {
  test.each([
    ['my daughter’s sax squeaks since she dropped it', 'dropped@instrument=dropped'],
    ['it was not dropped', 'dropped@instrument=not-dropped'],
    ['it began suddenly', 'began@instrument=suddenly'],
    ['it stopped suddenly', 'began@instrument=suddenly'],
    ['it got worse and worse', 'began@instrument=slowly'],
    ['new reed and now it squeaks', 'new-reed@instrument=yes'],
    ['a new reed made no difference', 'try-reed@setup.reed=same'],
    ['it squeaks after a wash', 'got-wet@instrument=yes'],
    ['we played outside in the cold', 'cold@instrument=yes'],
    ['squeaks after ten minutes', 'comes-and-goes@instrument=comes-and-goes'],
    ['he drinks soda before band', 'sweet-drink@instrument=yes'],
    ['someone turned a screw', 'adjusted@instrument=adjusted'],
  ])('"%s" is %s', (text, finding) => {
    expect(likely(text)).toEqual([finding]);
  });
});

describe('spelling mistakes', () => {
  test.each([
    ['low notes gurggle', 'low notes gurgle'],
    ['D dosn’t spaek', 'D doesn’t speak'],
    ['it was droped', 'it was dropped'],
    ['stikcy g sharp', 'sticky g sharp'],
    ['LOW C DOESNT PLAY', 'low c doesn’t play'],
    ["low c doesn't play", 'low c doesn’t play'],
  ])('"%s" is read as "%s"', (wrong, right) => {
    expect(likely(wrong)).toEqual(likely(right));
    expect(likely(right)).not.toEqual([]);
  });

  test('short words are never bent into others', () => {
    expect(read('the shoe of a cat').proposals).toEqual([]);
  });
});

describe('what is denied', () => {
  test.each([
    ['D does not squeak', []],
    ['low B doesn’t come out', ['B3=silent']],
    ['G# doesn’t stick', []],
    ['everything except low B works', 'B3=unsteady'],
  ])('"%s"', (text, expected) => {
    if (typeof expected === 'string') expect(likely(text)[0]).toBe(expected);
    else expect(likely(text).filter((finding) => !finding.endsWith('=speaks'))).toEqual(expected);
  });
});

describe('what is no complaint', () => {
  test.each(['', '   ', '🎷😭', '低音が出ない', 'Μπάσες νότες', '12345', '?!…', 'hello, please help'])(
    '"%s" proposes nothing',
    (text) => expect(read(text).proposals).toEqual([]),
  );

  test('a note after "not" is the one that is left out', () => {
    for (const text of ['B flat is silent, not B', 'B flat, not B, does not speak']) {
      const likely = read(text).proposals.filter(({ isLikely }) => isLikely);
      expect(likely.map(({ says }) => says).sort()).toEqual([
        'Middle B flat does not speak.',
        'Middle B speaks.',
      ]);
    }
    // Here it may mean "nor D".
    const speaking = read('low C does not speak, not D').proposals.filter(({ says }) =>
      /speaks\.$/.test(says),
    );
    expect(speaking).toEqual([]);
  });

  test('one slip is forgiven in a word of four letters', () => {
    expect(read('g sharp key stik').proposals.map(({ says }) => says)).toEqual(
      read('g sharp key stick').proposals.map(({ says }) => says),
    );
    expect(read('g sharp key stik').proposals.length).toBeGreaterThan(0);
  });

  test('markup is passed over, and nothing of it comes back', () => {
    const reading = read('<b>low C</b> <script>alert("x")</script> is silent');
    expect(reading.proposals.map(({ says }) => says)).toEqual(['Low C does not speak.']);
    expect(JSON.stringify(reading)).not.toContain('<');
  });

  test('what is too long is read as far as a complaint goes, and the rest is told', () => {
    const reading = read(`low C is silent. ${'x'.repeat(longestComplaint)}`);
    expect(reading.proposals.map(({ says }) => says)).toEqual(['Low C does not speak.']);
    expect(reading.unread).toBe(17);
  });

  test('words that are not understood are named, with where they stand', () => {
    const text = 'low C is silent, gizmo';
    const { leftOver, missed } = read(text);
    expect(leftOver).toEqual(['gizmo']);
    expect(missed.map(({ from, to }) => text.slice(from, to))).toEqual(['gizmo']);
  });
});

describe('a complaint that says several things at once', () => {
  const says = (text: string) =>
    read(text)
      .proposals.filter(({ isLikely }) => isLikely)
      .map((proposal) => proposal.says);

  test.each([
    [
      'low notes gurgle, G sharp is sticky and the neck is loose. Also the octave key rattles',
      [
        'Low B flat and low B resist or are unsteady.',
        'The G sharp cup clings, then lets go.',
        'The neck joint rocks or turns.',
      ],
    ],
    [
      '1. low C wont speak 2. the bis key rattles 3. middle D is stuffy',
      ['Low C does not speak.', 'Middle D resists or is unsteady.'],
    ],
    [
      'It was fine until Monday. Then he dropped it. Now low B is silent and the octave key is bent.',
      [
        'Low B does not speak.',
        'The neck octave pip is bent or rubs on something.',
        'It was dropped or knocked, or has a fresh dent.',
      ],
    ],
    [
      'my g# sticks and the low c# leaks; also palm keys hit each other',
      ['The G sharp cup clings, then lets go.', 'The low C sharp cup does not close; air gets out there.'],
    ],
  ])('"%s" is read as each of them', (text, expected) => {
    expect(says(text)).toEqual(expected);
  });

  test('an article before "low" does not part it from its note', () => {
    expect(says('The low B and B flat don’t speak, and the high F is weak')).toEqual([
      'Low B flat and low B do not speak.',
      'High F resists or is unsteady.',
    ]);
    expect(says('the lows and the highs are bad')).toEqual(says('low notes and high notes are bad'));
  });
});
