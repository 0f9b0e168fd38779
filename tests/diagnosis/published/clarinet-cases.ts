/**
 * Faults of clarinets as others have published them, and how their words are read as findings. The facts (which notes
 * failed, what was seen, what the cause was) are theirs; the reading is ours and stands beside each.
 */
import type { NoteFinding } from '../../../src/diagnosis/index.ts';
import type { PublishedCase } from './cases.ts';

const notes = (answered: NoteFinding['answered'], ...names: string[]): NoteFinding[] =>
  names.map((note) => ({ note, answered }));

export const publishedClarinetCases: readonly PublishedCase[] = [
  {
    id: 'register key works, register does not change',
    source: 'El brujo musical (Spanish), clarinet care articles',
    address: 'https://brujomusical.blogspot.com',
    told: 'The register key opens and the instrument stays in the low register; the small vent is clogged with dirt.',
    reading:
      'Low notes speak; clarion notes give the note a twelfth below; the cup of the vent is seen to open.',
    findings: [
      ...notes('speaks', 'E3', 'G3', 'C4'),
      { note: 'C5', answered: 'wrong', sounded: 'F3' },
      { note: 'G5', answered: 'wrong', sounded: 'C4' },
      { check: 'opens@cup.register', saw: 'opens' },
    ],
    causes: ['blocked@cup.register'],
  },
  {
    id: 'class cannot cross the break, the lower joint hisses',
    source: 'Mattei Music Services, Crossing the break, part 3',
    address: 'https://www.matteimusicservices.com/post/crossing-the-break-part-3-and-last',
    told: 'Many cannot cross the break; a blow test of the lower joint hisses; the bottom hole is called the likeliest leak.',
    reading:
      'The first note over the break fails and the throat note under it speaks; the hiss of the lower joint is read as light under its lowest cup.',
    findings: [
      ...notes('unsteady', 'B4'),
      ...notes('speaks', 'A4', 'Bb4'),
      { check: 'light@cup.e-b', saw: 'shines' },
    ],
    causes: ['leaks@cup.e-b', 'tight@link.crowfoot-e', 'bent@cup.e-b'],
  },
  {
    id: 'slow over the break, the third finger off the middle of its hole',
    source: 'Halftime Magazine, Get around roadblocks, May 2011',
    address: 'http://halftimemag.com/articles/05-2011/05-2011-sectionals/get-around-roadblocks.html',
    told: 'Slow response over the break from a slight leak at the right third finger’s hole.',
    reading: 'B and C unsteady, B flat speaks; the finger’s print is off the middle.',
    findings: [
      ...notes('unsteady', 'B4', 'C5'),
      ...notes('speaks', 'Bb4'),
      { check: 'ring-print@hole.rh3', saw: 'open-print' },
    ],
    causes: ['uncovered@hole.rh3'],
  },
  {
    id: 'beginners squeak and notes answer late',
    source: 'B. Pimentel, Staying connected to the clarinet',
    address: 'https://bretpimentel.com/staying-connected-to-the-clarinet/',
    told: 'Beginners squeak, notes answer late; holes are not fully covered, or not all at once.',
    reading: 'The low notes with many fingers are unsteady, those with few speak; squeezing helps.',
    findings: [
      ...notes('unsteady', 'G3', 'A3', 'C4'),
      ...notes('speaks', 'G4', 'A4'),
      { check: 'squeeze@fg.G3', saw: 'clears' },
      { check: 'good-player@instrument', saw: 'better' },
    ],
    causes: [
      ...['lh-thumb', 'lh1', 'lh2', 'lh3', 'rh1', 'rh2', 'rh3'].map((hole) => `uncovered@hole.${hole}`),
      'player@player.hand',
    ],
  },
  {
    id: 'clarion B flat flutters',
    source: 'Water water everywhere, clarinet blog, February 2009',
    address: 'http://clarinet-andino.blogspot.com/2009/02/',
    told: 'Clarion B flat flutters after the instrument has lain with the side keys down: water in a side-key hole.',
    reading: 'That note unsteady with the side key, its neighbours speak; it comes and goes.',
    findings: [
      { note: 'Bb5', fingering: 'fg.Bb5-side', answered: 'unsteady' },
      ...notes('speaks', 'A5', 'B5', 'C6'),
      { check: 'comes-and-goes@instrument', saw: 'comes-and-goes' },
    ],
    causes: ['water@cup.side4'],
  },
  {
    id: 'beginner gets almost no sound, lowest side key ajar',
    source: 'A private teacher’s blog, I want to do clarinet repair, July 2011',
    address: 'http://lovelypinktiger.blogspot.com/2011/07/i-want-to-do-clarinet-repair.html',
    told: 'A beginner gets almost no sound; the lowest side key stands a little open and does not seal.',
    reading:
      'Low notes silent or unsteady; light under the cup of the lowest side key. The ranges in the account are unclear.',
    findings: [...notes('silent', 'G3', 'C4'), { check: 'light@cup.side4', saw: 'shines' }],
    causes: ['leaks@cup.side4', 'held-open@cup.side4', 'bent@cup.side4', 'spring-off@cup.side4'],
  },
  {
    id: 'side-key pad gone',
    source: 'The Clarinet BBoard, thread 198426, November 2005 (E flat soprano, same mechanism)',
    address: 'http://test.woodwind.org/clarinet/BBoard/read.html?a=1&f=1&t=198426',
    told: 'A school instrument is unusable; the pad of a side key is missing (and another pad too).',
    reading: 'Low notes silent; the pad is seen to be gone. Which side key is not said: the lowest is taken.',
    findings: [...notes('silent', 'E3', 'G3', 'C4'), { check: 'look@cup.side4', saw: 'pad-gone' }],
    causes: ['pad-lost@cup.side4'],
  },
  {
    id: 'leak traced to the bridge',
    source: 'Clarinet bridge key repair, repair-shop article, February 2024',
    address: 'https://secondwindinstrumentrepair.com/2024/02/29/clarinet-bridge-key-repair',
    told: 'Leaks and poorer sound come from a bridge whose cork is worn thin.',
    reading:
      'E flat with the two first fingers unsteady, with the side key it speaks; the right ring cup lands first.',
    findings: [
      { note: 'Eb4', fingering: 'fg.Eb4-1and1', answered: 'unsteady' },
      { note: 'Eb4', fingering: 'fg.Eb4-side', answered: 'speaks' },
      { check: 'lands@link.bridge', saw: 'own-first' },
    ],
    causes: ['slack@link.bridge'],
  },
  {
    id: 'the pads are sticky',
    source: 'A woodwind technician’s newsletter, Why do pads stick?',
    address: 'https://woodwindfixer.substack.com/p/why-do-pads-stick',
    told: 'A key lifts late or not at all, so that its note does not come.',
    reading:
      'G sharp gives G now and then; the throat G sharp cup clings, then lets go. The pad is not named: this one is taken.',
    findings: [
      { note: 'G#4', answered: 'wrong', sounded: 'G4' },
      { check: 'comes-and-goes@instrument', saw: 'comes-and-goes' },
    ],
    causes: ['sticks@cup.gsharp'],
  },
  {
    id: 'tone went thin over weeks, the same on another clarinet',
    source: 'S. Friedland, reader letter and answer, May 2004',
    address: 'https://clarinetcorner.wordpress.com/2004/05/22/more-tonguing-troubles/',
    told: 'The tone went thin; the same with this mouthpiece on another clarinet; a new mouthpiece brought it back.',
    reading: 'Another mouthpiece: better. No notes are named.',
    findings: [{ check: 'try-mouthpiece@setup.mouthpiece', saw: 'better' }],
    causes: ['set-up@setup.mouthpiece'],
  },
  {
    id: 'squeak at every entry',
    source: 'Adult beginner’s blog, Try it again, Sam, January 2006',
    address: 'http://vr-blog.blogspot.com/2006/01/try-it-again-sam.html',
    told: 'An adult beginner squeaks at every entry from C to A; firmer lips cured it.',
    reading: 'Notes from C to A unsteady; another player plays them well.',
    findings: [
      ...notes('unsteady', 'C5', 'E5', 'G5', 'A5'),
      { check: 'good-player@instrument', saw: 'better' },
    ],
    causes: ['player@player.embouchure'],
  },
  {
    id: 'A to B not smooth, fingers look right',
    source: 'Band Directors Talk Shop, Crossing the break on clarinet smoothly',
    address: 'https://banddirectorstalkshop.com/crossing-break-clarinet-smoothly/',
    told: 'A to B is not smooth although the fingers look right: the air is too slow.',
    reading: 'B unsteady, A speaks; a whole print at the last finger; another player plays it well.',
    findings: [
      ...notes('speaks', 'A4'),
      ...notes('unsteady', 'B4'),
      { check: 'ring-print@hole.rh3', saw: 'whole' },
      { check: 'good-player@instrument', saw: 'better' },
    ],
    causes: ['player@player.air', 'player@player.embouchure'],
  },
];

/** Published accounts that say nothing the findings of this program can carry. */
export const clarinetCasesLeftOut: readonly { readonly source: string; readonly because: string }[] = [
  {
    source: 'Protect bridge keys, instrument-care handbook page',
    because: 'It says how arms get bent on joining, not how a note answers.',
  },
  {
    source: 'A repair technician’s blog, Tales from the bench 2, March 2017',
    because: 'The torn pad is not named, nor the notes that fail.',
  },
  { source: 'S. Howard, Jewellery jinx', because: 'The stored copy ends before the cause that was found.' },
  {
    source: 'Mr. A music place, Overcoming the clarinet break, March 2014',
    because: 'The cause is how a finger moves from one note to the next, which no finding carries.',
  },
  {
    source: 'Carolina clarinetist blog, February 2012 and January 2013',
    because: 'Cracks in the wood are seen and sent to the bench; they are not in the list of faults.',
  },
  {
    source: 'B. Gnojek, ’Tis the season (for cracking), November 2014',
    because: 'Cracks in the wood are seen and sent to the bench; they are not in the list of faults.',
  },
  {
    source: 'Instrument-care handbook page, Repairing cracks',
    because: 'Cracks in the wood are seen and sent to the bench; they are not in the list of faults.',
  },
  {
    source: 'A repair shop’s care pages, Protect from dryness',
    because: 'Posts that turn in dry wood are not in the list of faults; no note is named.',
  },
  {
    source: 'A family blog, Play, play, play and play it again, October 2008',
    because: 'The note lies above the range that is described here.',
  },
  {
    source: 'Maine Music Outreach blog, License to fix, July 2013',
    because: 'A corroded key; neither the key nor a note is named.',
  },
  {
    source: 'A repair technician’s tip, Rubber bands, chewing gum and emergency repair',
    because: 'It tells a remedy for a lost pad, and no notes.',
  },
  {
    source: 'Article for directors, Woodwind repairs every director should know',
    because: 'A leaking pad somewhere: neither the pad nor a note is named.',
  },
  {
    source: 'P. L. Boonshaft, squeak test column',
    because: 'A squeak made on purpose to find how much reed to take in.',
  },
  {
    source: 'A repairer’s article, Why do woodwinds need adjustments?',
    because: 'General wear of pads and corks; no note is named.',
  },
  {
    source: 'A woodwind repairer’s page, Maintenance guide',
    because: 'Many small leaks at once; no note is named.',
  },
];
