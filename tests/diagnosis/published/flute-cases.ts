/**
 * Faults of flutes as others have published them, and how their words are read as findings. The facts (which notes failed,
 * what was seen, what the cause was) are theirs; the reading is ours and stands beside each.
 */
import type { Finding, NoteFinding } from '../../../src/diagnosis/index.ts';
import type { PublishedCase } from './cases.ts';

const notes = (answered: NoteFinding['answered'], ...names: string[]): Finding[] =>
  names.map((note) => ({ note, answered }));

export type FluteCase = PublishedCase & { readonly instrument: string };

export const fluteCases: readonly FluteCase[] = [
  {
    id: 'the F sharp fingering gives F',
    instrument: 'flute',
    source: 'Fluteland board, thread 21516, 2017',
    address: 'https://fluteland.com/board/viewtopic.php?f=4&t=21516',
    told: 'F sharp cannot be had, its fingering gives F; the spring of the F key broken, bent or unhooked, or the keys of the right hand bind.',
    reading: 'F sharp gives another note; G and F are not said to fail, and speak.',
    findings: [...notes('wrong', 'F#4'), ...notes('speaks', 'G4', 'F4')],
    causes: ['spring-off@cup.f', 'sticks@cup.f', 'bent@cup.f'],
  },
  {
    id: 'low C is hard to play',
    instrument: 'flute',
    source: 'Exclusively Flutes, Is it the flute? Or is it me? Part 3',
    address: 'http://exclusivelyflutes.com.au/flute-part-3/',
    told: 'Low C is hard to play; the C sharp pad lands later than the C pad when only the C roller is pressed.',
    reading: 'C4 unsteady; watched at the roller, the C cup lands first.',
    findings: [...notes('unsteady', 'C4'), { check: 'lands@link.c-closes-csharp', saw: 'own-first' }],
    causes: ['slack@link.c-closes-csharp'],
  },
  {
    id: 'the F sharp pad is too thin',
    instrument: 'flute',
    source: 'Fluteland board, thread 16557',
    address: 'https://www.fluteland.com/board/viewtopic.php?f=18&t=16557',
    told: 'Poor response again some weeks after a service; the F sharp pad does not seal at the back, whichever key brings it down.',
    reading: 'F sharp and lower unsteady, G speaks; paper slips under the F sharp pad.',
    findings: [
      ...notes('unsteady', 'F#4', 'F4', 'D4'),
      ...notes('speaks', 'G4'),
      { check: 'paper@cup.fsharp', saw: 'slips' },
    ],
    causes: ['leaks@cup.fsharp'],
  },
  {
    id: 'high F sharp and above only air',
    instrument: 'flute',
    source: 'thtsgoodsquishy, repair shop diary, 19 November 2023',
    address: 'http://m.livejournal.com/read/user/thtsgoodsquishy/185390',
    told: 'Resistance from the high D, the high F poor, F sharp and above only air; all lower notes good; another headjoint cures it at once.',
    reading:
      'Two high notes unsteady, three above silent, notes of the lower octaves speak; with another headjoint they come.',
    findings: [
      ...notes('unsteady', 'D6', 'F6'),
      ...notes('silent', 'F#6', 'G6', 'A6'),
      ...notes('speaks', 'D4', 'G4', 'B4', 'G5', 'A5'),
      { check: 'other-headjoint@instrument', saw: 'better' },
    ],
    causes: ['set-up@setup.cork-leak'],
  },
  {
    id: 'the highest notes go first, over weeks',
    instrument: 'flute',
    source: 'The Flute Examiner, It’s all in your head',
    address: 'https://thefluteexaminer.com/its-all-in-your-head-an-often-overlooked-maintenance-issue',
    told: 'More and more resistance in the third octave, starting at the top, until it does not speak; the low and middle octaves are good at first. The head cork leaks.',
    reading: 'The highest notes silent, one below unsteady, the lower octaves speak; it began slowly.',
    findings: [
      ...notes('silent', 'C7', 'B6'),
      ...notes('unsteady', 'A6'),
      ...notes('speaks', 'D4', 'G4', 'E5', 'A5'),
      { check: 'began@instrument', saw: 'slowly' },
    ],
    causes: ['set-up@setup.cork-leak'],
  },
  {
    id: 'high notes off against the low ones',
    instrument: 'flute',
    source: 'C. Hummel, All about the headjoint cork, 2020',
    address: 'https://drcatesflutetips.wordpress.com/category/flute-maintenance/',
    told: 'High notes flat against low ones; the cork stands nearer the crown than 17 mm.',
    reading: 'Third octave unsteady, low octave speaks; the mark of the rod is beside the middle.',
    findings: [
      ...notes('unsteady', 'D6', 'G6'),
      ...notes('speaks', 'D4', 'G4'),
      { check: 'rod-mark@setup.cork-place', saw: 'beside' },
    ],
    causes: ['set-up@setup.cork-place'],
  },
  {
    id: 'E and F sharp flat and dull',
    instrument: 'flute',
    source: 'C. Hummel, The 5 most common fingering mistakes, 2014',
    address: 'https://drcatesflutetips.wordpress.com/2014/10/26/the-5-most-common-fingering-mistakes/',
    told: 'E and F sharp flat and dull in both octaves, D good; the E flat key is not held.',
    reading: 'E and F sharp unsteady in both octaves, G speaks.',
    findings: [...notes('unsteady', 'E4', 'E5', 'F#4', 'F#5'), ...notes('speaks', 'G4', 'A4')],
    causes: ['player@player.little-finger'],
  },
  {
    id: 'middle D and E flat carry the lower octave',
    instrument: 'flute',
    source: 'C. Hummel, The 5 most common fingering mistakes, 2014',
    address: 'https://drcatesflutetips.wordpress.com/2014/10/26/the-5-most-common-fingering-mistakes/',
    told: 'Middle D and E flat carry an undertone, low D and E flat are good; the left first finger stays down.',
    reading: 'D5 and Eb5 unsteady; D4 and Eb4 speak.',
    findings: [...notes('unsteady', 'D5', 'Eb5'), ...notes('speaks', 'D4', 'Eb4', 'E5')],
    causes: ['player@player.first-finger'],
  },
  {
    id: 'high E, F sharp and G sharp drop',
    instrument: 'flute',
    source: 'C. Hummel, High register hacks, 2015',
    address:
      'https://drcatesflutetips.wordpress.com/2015/01/18/high-register-hacks-for-intonation-dynamics-and-facility/',
    told: 'High E, F sharp and G sharp drop a fifth; the air is too slow.',
    reading: 'These three give another note; D6 and the octave below speak.',
    findings: [...notes('wrong', 'E6', 'F#6', 'G#6'), ...notes('speaks', 'D6', 'E5', 'A5', 'D4')],
    causes: ['player@player.air'],
  },
  {
    id: 'E flat wheezes and low C does not speak',
    instrument: 'flute-open-hole',
    source: 'flutesolomusic blog, When a note doesn’t speak well, 2013',
    address: 'http://flutesolomusic.blogspot.com/2013/08/when-note-doesnt-speak-well.html',
    told: 'In a downward line E flat wheezes and low C does not speak; the G before it was weak already: a left finger did not cover its hole.',
    reading: 'G4 and Eb4 unsteady, C4 silent; A4 speaks.',
    findings: [...notes('unsteady', 'G4', 'Eb4'), ...notes('silent', 'C4'), ...notes('speaks', 'A4')],
    causes: ['uncovered@hole.g'],
  },
  {
    id: 'air only, quiet, no pitch',
    instrument: 'flute',
    source: 'R. Fuller, Popcorn! In your flute?',
    address: 'https://learnfluteonline.com/popcorn/',
    told: 'Air only on every note; screws, rods, keys and springs are sound; the view through the headjoint is blocked.',
    reading: 'Notes of every range silent; something is in the headjoint.',
    findings: [...notes('silent', 'B4', 'G4', 'D4', 'A5'), { check: 'look-inside@bore.head', saw: 'found' }],
    causes: ['object@bore.head'],
  },
  {
    id: 'horrible noises, no usable note',
    instrument: 'flute',
    source: 'D. Hosek, Flute diary, July 1999',
    address: 'https://don.dream-in-color.net/flute/199907.html',
    told: 'No usable note, suddenly; the cleaning rod meets something in the headjoint: a piece of the case lining.',
    reading: 'Notes of every range silent or unsteady; the headjoint alone fails as well.',
    findings: [
      ...notes('silent', 'B4', 'D4'),
      ...notes('unsteady', 'G4', 'A5', 'D6'),
      { check: 'look-inside@bore.head', saw: 'found' },
    ],
    causes: ['object@bore.head'],
  },
  {
    id: 'nothing below a certain note',
    instrument: 'flute',
    source: 'instrumenttips, Tales from the bench 3, 2017',
    address: 'https://instrumenttips.blogspot.com/2017/03/tales-from-bench-3-what-gasp.html',
    told: 'Below a certain note nothing comes; one cup hangs open on one side, its key caught and bent sideways.',
    reading:
      'The source names no note: taken as the F cup. G and F sharp speak, F and lower silent; the F cup is seen bent.',
    findings: [
      ...notes('speaks', 'G4', 'F#4'),
      ...notes('silent', 'F4', 'E4', 'D4'),
      { check: 'look@cup.f', saw: 'bent' },
    ],
    causes: ['bent@cup.f'],
  },
  {
    id: 'the foot joint fits badly',
    instrument: 'flute',
    source: 'Repair My Flute, Dented tenon, part I, 2012',
    address: 'http://www.repairmyflute.com/2012/06/dented-tenon-part-i.html',
    told: 'The foot joint fits badly and may fall off; its tenon is dented and leaks.',
    reading: 'The notes of the foot joint unsteady, E speaks; the foot joint rocks.',
    findings: [
      ...notes('unsteady', 'D4', 'C#4', 'C4'),
      ...notes('speaks', 'E4', 'G4'),
      { check: 'wobble@joint.foot', saw: 'moves' },
    ],
    causes: ['loose@joint.foot'],
  },
  {
    id: 'sound lost at the lower tenon',
    instrument: 'flute',
    source: 'information-about-music, The foot joint, 2017',
    address: 'https://information-about-music.blogspot.de/search/label/Flute%20Repair',
    told: 'A leak and loss of sound at the lower tenon; the foot joint is loose.',
    reading: 'Low D and below silent, E speaks; the foot joint rocks.',
    findings: [
      ...notes('silent', 'C#4', 'C4'),
      ...notes('unsteady', 'D4'),
      ...notes('speaks', 'E4'),
      { check: 'wobble@joint.foot', saw: 'moves' },
    ],
    causes: ['loose@joint.foot'],
  },
  {
    id: 'the headjoint turns while playing',
    instrument: 'flute',
    source: 'Repair My Flute, Headjoint fit, 2012',
    address: 'http://www.repairmyflute.com/2012/09/',
    told: 'The headjoint turns; it is too loose, dented or dirty, and everything suffers.',
    reading: 'Notes of every range unsteady; the headjoint moves in the body.',
    findings: [...notes('unsteady', 'B4', 'G4', 'D4', 'A5'), { check: 'wobble@joint.head', saw: 'moves' }],
    causes: ['loose@joint.head'],
  },
  {
    id: 'no full sound at all',
    instrument: 'flute',
    source: 'Indy Flute Shop, Successful beginnings',
    address: 'https://indyfluteshop.com/successful-beginnings',
    told: 'A beginner makes no full sound at all; the headjoint is turned and placed wrongly at the lips.',
    reading: 'Notes of the first two octaves unsteady, low D silent; the headjoint stands turned.',
    findings: [
      ...notes('unsteady', 'B4', 'G4', 'A5'),
      ...notes('silent', 'D4'),
      { check: 'look-headjoint-line@setup.lip-plate', saw: 'turned' },
    ],
    causes: ['set-up@setup.lip-plate', 'player@player.embouchure'],
  },
  {
    id: 'A, G sharp and G bad, F good',
    instrument: 'flute',
    source: 'L. Krantz, B flat fingerings; K. Pitts, Flute: common problems',
    address: 'http://www.larrykrantz.com/bbf.htm',
    told: 'The A key should bring the B flat cup down, and so does the F key: with a slack A key A to F sharp fail and F is good again.',
    reading: 'A4, G4 unsteady; B4, F4 and D4 speak.',
    findings: [...notes('unsteady', 'A4', 'G4'), ...notes('speaks', 'B4', 'F4', 'D4')],
    causes: ['slack@link.a-closes-bflat'],
  },
];

/** Published cases that are not read as findings, and why. */
export const fluteCasesLeftOut: readonly {
  readonly told: string;
  readonly source: string;
  readonly because: string;
}[] = [
  {
    told: 'B flat wrong and often lower notes as well; the rod of the small C key has crept out',
    source: 'K. Pitts, Flute: common problems',
    because:
      'A hinge rod that creeps out moves a whole section of keys sideways; the mechanism knows no such fault. Bench work.',
  },
  {
    told: 'One note will not play, and pressing one cup makes it speak; a limp key; a key that falls off; a key that does not come up; a key that needs force',
    source: 'flutecentric; Kansas State University; Lorilee; SmartMusic',
    because: 'No note and no key is named, so nothing can be entered.',
  },
  {
    told: 'Low C sharp gives only air; the fingers were checked; the C sharp pad leaks',
    source: 'cyberflute, Low C sharp',
    because:
      'One note alone does not tell that pad from a loose foot joint or the player’s lips: it comes fourth, close behind them.',
  },
  {
    told: 'The highest B flat cracks',
    source: 'Lorilee, Two sticky high B flats, 2012',
    because: 'The cause is lost in the copy that was read.',
  },
  {
    told: 'The low B key does not move freely',
    source: 'Repair My Flute, A bit of a snag, 2012',
    because: 'A binding rod; whether the cup then leaks or stays down is not said.',
  },
  {
    told: 'Stuffy or out of tune after the keys were set lower or higher',
    source: 'Repair My Flute, Changing key heights, 2015',
    because: 'No note is named, and cups that open too far only change the tuning.',
  },
  {
    told: 'Sticky pads; notes covered in the cold',
    source: 'J. Dening; Repair My Flute; G. Kindler',
    because: 'No note and no key is named.',
  },
  {
    told: 'Some high trills do not work with a split E',
    source: 'Rayworth, Photographs and notes on split E mechanism',
    because: 'The design of that mechanism, not a fault.',
  },
];
