/**
 * Faults of saxophones as others have published them, and how their words are read as findings. The facts (which notes
 * failed, what was seen, what the cause was) are theirs; the reading is ours and stands beside each.
 */
import type { Finding, NoteFinding } from '../../../src/diagnosis/index.ts';

export type PublishedCase = {
  readonly id: string;
  readonly source: string;
  readonly address: string;
  readonly told: string;
  readonly reading: string;
  readonly findings: readonly Finding[];
  /** Any of these is the published cause. */
  readonly causes: readonly string[];
};

const notes = (answered: NoteFinding['answered'], ...names: string[]): NoteFinding[] =>
  names.map((note) => ({ note, answered }));

export const publishedCases: readonly PublishedCase[] = [
  {
    id: 'low C sharp, B and B flat hard to produce',
    source: 'S. Stusek, Playing Low Notes',
    address: 'http://stevestusek.com/playing-low-notes',
    told: 'The lowest notes C sharp, B, B flat are hard to produce, above all softly; the G sharp adjusting screw does not hold the G sharp cup shut.',
    reading: 'Hard to produce: unsteady. Nothing is said of other notes, so nothing is entered.',
    findings: notes('unsteady', 'C#4', 'B3', 'Bb3'),
    causes: ['slack@link.fsharp-holds-gsharp'],
  },
  {
    id: 'dropped, plays only above top G',
    source: "S. Howard, It's an ill wind...",
    address: 'https://www.shwoodwind.co.uk/Notes/Ill_wind.htm',
    told: 'A student instrument that fell plays only above G5, perhaps down to D5 with much breath; the neck octave key was bent in the fall.',
    reading:
      'Some notes of the low register silent, two of D5 to G5 unsteady, two above speak; dropped: yes.',
    findings: [
      ...notes('silent', 'D4', 'F4', 'G4', 'A4', 'C5'),
      ...notes('unsteady', 'D5', 'F5'),
      ...notes('speaks', 'A5', 'C6'),
      { check: 'dropped@instrument', saw: 'dropped' },
    ],
    causes: ['bent@cup.oct-neck', 'tight@link.neck-ring'],
  },
  {
    id: 'A airy, hollow and flat',
    source: 'I. Murray, blog, June 2009',
    address: 'http://blog.ian-murray.co.uk/2009/06/found-problem-with_24.html',
    told: 'A is airy; a cork is missing and a pad does not cover its hole when A is fingered; the linked pad stays open.',
    reading: 'A4 unsteady; watched at the A key, its own cup lands and the bis cup stays up.',
    findings: [...notes('unsteady', 'A4'), { check: 'lands@link.a-closes-bis', saw: 'own-first' }],
    causes: ['slack@link.a-closes-bis'],
  },
  {
    id: 'G sharp sticks',
    source: 'sax.co.uk, The eternal conundrum of the sticky G key',
    address: 'https://sax.co.uk/blogs/news/the-eternal-conundrum-of-the-sticky-g-key',
    told: 'G sharp sticks at the worst moment; residue on the pad.',
    reading: 'Both G sharps give another note; it comes and goes.',
    findings: [
      ...notes('wrong', 'G#4', 'G#5'),
      { check: 'comes-and-goes@instrument', saw: 'comes-and-goes' },
    ],
    causes: ['sticks@cup.gsharp'],
  },
  {
    id: 'high notes stop working',
    source: 'saxophonelessons.com, Saxophone High Notes Not Working?',
    address: 'https://saxophonelessons.com/saxophone-high-notes-not-working-causes-solutions/',
    told: 'High notes stop working; the neck pad never opens (or never quite closes).',
    reading: 'Of the two, the pad that never opens; the notes from A5 up give another note.',
    findings: [...notes('wrong', 'A5', 'B5', 'C6', 'D6'), { check: 'opens@cup.oct-neck', saw: 'stays-shut' }],
    causes: ['slack@link.neck-ring', 'blocked@cup.oct-neck'],
  },
  {
    id: 'low C and B warble',
    source: 'jbtsax, Warbling investigation',
    address: 'http://www.jbtsaxmusic.net/',
    told: 'Low C and B warble on a leak-free instrument; it depends on the mouthpiece.',
    reading:
      'Both unsteady; with a mouthpiece known to be good they come. (A C-melody saxophone: same keys.)',
    findings: [...notes('unsteady', 'C4', 'B3'), { check: 'own-set-up@instrument', saw: 'better' }],
    causes: ['set-up@setup.mouthpiece'],
  },
  {
    id: 'air with very little sound',
    source: 'Sax on the Web, Killing his sax students',
    address: 'https://www.saxontheweb.net/threads/killing-his-sax-students.58357/',
    told: 'Air with very little sound; strength 4 reeds throughout the section; a softer reed helped.',
    reading: 'The lowest note silent, notes of every range unsteady.',
    findings: [...notes('silent', 'Bb3'), ...notes('unsteady', 'D4', 'G4', 'C5', 'D5', 'A5')],
    causes: ['set-up@setup.reed'],
  },
  {
    id: 'the G key will not close',
    source: 'Band Instrument Repair blog, Lesson learned, 2012',
    address: 'https://bandinstrumentrepair.blogspot.com/2012/08/lesson-learned-81412.html',
    told: 'Dropped; the G key stops short because its arm hits a tube; G and below fail by implication.',
    reading: 'G4, F4, D4, C4 silent; dropped; looked at from the side, the G cup rubs on its neighbour.',
    findings: [
      ...notes('silent', 'G4', 'F4', 'D4', 'C4'),
      { check: 'dropped@instrument', saw: 'dropped' },
      { check: 'look@cup.g', saw: 'bent' },
    ],
    causes: ['bent@cup.g', 'tight@link.g-switches-octave'],
  },
  {
    id: 'only air on F and D',
    source: "sisterhelen.org, A writer's reward",
    address: 'https://www.sisterhelen.org/a-writers-reward/',
    told: 'Only air on F and D; the pad of the F key was found in the case.',
    reading: 'F4 and D4 silent; the F cup has no pad.',
    findings: [...notes('silent', 'F4', 'D4'), { check: 'look@cup.f', saw: 'pad-gone' }],
    causes: ['pad-lost@cup.f'],
  },
  {
    id: 'low notes hard softly after a fall',
    source: 'wolfbrother blog, Broke my sax, 2011',
    address: 'http://wolfbrother.blogspot.com/2011/10/broke-my-sax.html',
    told: 'Dropped from the case; low notes hard softly; a bent ligature, another one cures it.',
    reading: 'C4, B3, Bb3 unsteady; dropped; the ligature looks bent.',
    findings: [
      ...notes('unsteady', 'C4', 'B3', 'Bb3'),
      { check: 'dropped@instrument', saw: 'dropped' },
      { check: 'look-ligature@setup.ligature', saw: 'crooked' },
    ],
    causes: ['set-up@setup.ligature'],
  },
];

/** Published cases that are not read as findings, and why. */
export const leftOut: readonly {
  readonly told: string;
  readonly source: string;
  readonly because: string;
}[] = [
  {
    told: 'B plays and C does not, laid to a venting side C key',
    source: 'carlymho.com, When Notes Below B Fail to Sound',
    because:
      'Contradicts the mechanism: a side C leak lies below the open B hole of C and harms B and below. Known disagreement.',
  },
  {
    told: 'Middle B and C of a soprano stick now and then',
    source: 'Allexperts, E. Cantera, 2014',
    because: 'Two cups at once on another instrument, named by the keys and not by what was heard.',
  },
  {
    told: 'Notes come out too high, a neck or upper key bent',
    source: 'DeanoTheSaxman, Sax First Aid',
    because: 'No notes are given; the heading is lost in the copy that was read.',
  },
  {
    told: 'The whole scale wrong after a fall: low C sharp cup bent, high F spring cracked, E flat pad failing',
    source: 'biskey7 blog, 2017',
    because: 'Three faults at once and no notes told apart; two are the most that is followed.',
  },
  {
    told: 'Low B breaks when the C sharp touch is brushed',
    source: 'C. Altarac, Left Hand Table part 2',
    because:
      'Needs low B with the C sharp touch, a fingering that the data do not have; the mechanism that would hold the cup is absent on most instruments.',
  },
  {
    told: 'The fork F sharp of a 1920s alto is stuffy',
    source: 'C. Altarac, Clearing up fuzzy notes',
    because: 'The design of that model, not a fault.',
  },
  {
    told: 'G sharp closes too slowly and bounces',
    source: 'R. Allen, G sharp spring tension',
    because: 'A matter of speed, which the mechanism does not know.',
  },
  {
    told: 'Sticky pads after sweet drinks; a torn pad; a pad that falls out; parts missing on inspection; a neck ring bent round; damage in the case',
    source:
      'North Georgia Band; R. Allen, banddirector.com; Sax on the Web, 666; Colwell, Hewitt & Fonder p. 258; Volkwein',
    because: 'No notes and no single observation from which to conclude.',
  },
];
