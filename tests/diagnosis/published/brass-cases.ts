/**
 * Faults of brass instruments as others have published them, and how their words are read as findings. The facts (what was
 * heard and seen, what the cause was) are theirs; the reading is ours and stands beside each.
 */
import type { Finding, NoteFinding } from '../../../src/diagnosis/index.ts';
import type { PublishedCase } from './cases.ts';

const notes = (answered: NoteFinding['answered'], ...names: string[]): Finding[] =>
  names.map((note) => ({ note, answered }));

export type BrassCase = PublishedCase & { readonly instrument: string };

export const brassCases: readonly BrassCase[] = [
  {
    id: 'nothing plays after cleaning',
    instrument: 'trumpet',
    source: 'Instrument Tips blog, August 2017 (springs and valve guides)',
    address: 'https://instrumenttips.blogspot.com/2017/08',
    told: 'No air goes through after cleaning, and a valve can turn in its casing: its guide was left out, broken or put back the wrong way.',
    reading: 'Open notes silent; the valves have been out; the first valve turns (which one is not told).',
    findings: [
      ...notes('silent', 'C4', 'G4', 'C5'),
      { check: 'valves-out@instrument', saw: 'yes' },
      { check: 'turn-valve@valve.first', saw: 'turns' },
    ],
    causes: ['turned@valve.first'],
  },
  {
    id: 'nothing plays, a valve stands in the wrong casing',
    instrument: 'trumpet',
    source: 'trumpetboards.com, topic 1297',
    address: 'https://trumpetboards.com/topic/1297/trumpet-won-t-play/6',
    told: 'A trumpet that plays nothing: a valve in the wrong place or turned; look at the numbers and blow after each.',
    reading: 'Open notes and the first valve’s silent; the valves have been out. Nothing else is told.',
    findings: [...notes('silent', 'C4', 'G4', 'F4'), { check: 'valves-out@instrument', saw: 'yes' }],
    causes: [
      'swapped@pair.first-second',
      'swapped@pair.first-third',
      'swapped@pair.second-third',
      'turned@valve.second',
      'turned@valve.third',
    ],
  },
  {
    id: 'main tuning slide stuck',
    instrument: 'trumpet',
    source: 'Trumpetmaster thread 62076, Sticking Slides, 5 July 2011',
    address: 'http://www.trumpetmaster.com/threads/sticking-slides.62076/',
    told: 'The main tuning slide is stuck by dirt and corrosion in its legs.',
    reading: 'The main tuning slide does not move by hand.',
    findings: [{ check: 'draw-slide@slide.main', saw: 'stuck' }],
    causes: ['stuck@slide.main'],
  },
  {
    id: 'stuck mouthpiece',
    instrument: 'trumpet',
    source: 'Don’t try this at home, senior repair technician’s blog, 8 September 2013',
    address: 'https://randyjmueller.com/2013/09/08/dont-try-this-at-home/',
    told: 'A rental trumpet with its mouthpiece wedged; twisting with pliers destroyed the leadpipe.',
    reading: 'The mouthpiece does not come out; notes are not told of.',
    findings: [{ check: 'mouthpiece-out@joint.receiver', saw: 'stuck' }],
    causes: ['stuck@joint.receiver'],
  },
  {
    id: 'every note weak, the water key’s spring broken',
    instrument: 'trumpet',
    source: 'Emergency quick fixes, brass (repair-tips page)',
    address: 'https://legato-internasional.com/index.php/repair-tips/emergency-repairs',
    told: 'The spring of a water key breaks at a concert; its pad stands off and every note fails.',
    reading: 'Low and middle notes unsteady or silent; the main water key hangs open.',
    findings: [
      ...notes('silent', 'F#3', 'G3', 'C4'),
      ...notes('unsteady', 'G4', 'C5'),
      { check: 'look-key@water-key.main', saw: 'open' },
    ],
    causes: ['hangs-open@water-key.main'],
  },
  {
    id: 'valve slow or stops part way',
    instrument: 'trumpet',
    source: 'J. Huth, Casing and Piston Problems, repair program manual',
    address: 'https://fr.scribd.com/document/394849418/BIR-Brass-Manual-Piston-Repairs-Thru-Porting',
    told: 'A valve is slow or stops part way: dirt first, then corrosion, dents, strain.',
    reading: 'It comes and goes; the second valve (which one is not told) is slow.',
    findings: [
      { check: 'comes-and-goes@instrument', saw: 'comes-and-goes' },
      { check: 'work-valve@valve.second', saw: 'slow' },
    ],
    causes: ['sluggish@valve.second'],
  },
  {
    id: 'valve stuck before a concert',
    instrument: 'trumpet',
    source: 'Emergency quick fixes, brass (repair-tips page)',
    address: 'https://legato-internasional.com/index.php/repair-tips/emergency-repairs',
    told: 'A valve is stuck in its casing: dried deposits or damage.',
    reading: 'The third valve (which one is not told) does not move; its notes come too high.',
    findings: [
      { note: 'Eb4', answered: 'wrong', sounded: 'F#4' },
      { check: 'work-all-valves@instrument', saw: 'stuck' },
    ],
    causes: ['seized@valve.third'],
  },
  {
    id: 'middle lever stands up, its string is off',
    instrument: 'horn',
    source: 'Heart attack!, blog, September 2005',
    address: 'http://straightaheadjazz.blogspot.com/2005/09/heart-attack.html',
    told: 'The middle lever of a horn stands a quarter turn too high; notes with the second valve fail; the string came off its lever.',
    reading: 'Notes with the second valve come a half step too high, those without it speak.',
    findings: [
      { note: 'F#4', answered: 'wrong', sounded: 'G4' },
      { note: 'B3', answered: 'wrong', sounded: 'C4' },
      ...notes('speaks', 'G4', 'C4', 'F4'),
    ],
    causes: ['linkage-off@valve.second'],
  },
  {
    id: 'a lever moves without turning its rotor',
    instrument: 'double-horn',
    source: 'Apparently I don’t know my own strength, blog, 24 February 2006',
    address: 'http://chrisandrhiannon.com/blog/2006/02/24/apparently-i-don%E2%80%99t-know-my-own-strength',
    told: 'Some notes wrong; one lever moves without turning its rotor: the string slips under its screw.',
    reading: 'Two notes of the first valve (which one is not told) wrong; its lever moves alone.',
    findings: [...notes('wrong', 'F4', 'D4'), { check: 'work-lever@valve.first', saw: 'lever-only' }],
    causes: ['linkage-off@valve.first'],
  },
  {
    id: 'thumb lever stays down',
    instrument: 'double-horn',
    source: 'J. Boldin, DIY horn repair: thumb valve spring',
    address: 'https://jamesboldin.com/category/repair/',
    told: 'The thumb lever stays down in a lesson; the thumb valve’s spring has snapped.',
    reading: 'The thumb lever and valve move, and nothing brings them back.',
    findings: [{ check: 'work-lever@valve.thumb', saw: 'stays-down' }],
    causes: ['spring-broken@valve.thumb'],
  },
  {
    id: 'horn blows stuffy, marks do not meet',
    instrument: 'horn',
    source: 'Installing new corks (rotary valve bumpers), repair pages',
    address: 'http://www.volkweinsrepair.com/installing-new-corks/',
    told: 'A horn blows stuffy; the marks under the back cap do not meet the bearing mark at one stop: a worn or wrongly cut bumper.',
    reading:
      'Notes without the first valve (which one is not told) unsteady, one with it speaks; marks apart with the lever up.',
    findings: [
      ...notes('unsteady', 'G3', 'F#3', 'C4'),
      ...notes('speaks', 'F3'),
      { check: 'marks-up@valve.first', saw: 'aside' },
    ],
    causes: ['up-stop@valve.first'],
  },
  {
    id: 'stuffed up by something from the case',
    instrument: 'horn',
    source: 'Horn Matters, Ask Dave: Object Lessons, May 2011',
    address: 'http://hornmatters.com/2011/05/object-lessons/',
    told: 'A horn is stuffed up on every note; a craft gem that was loose in the case had moved into the tubing.',
    reading:
      'Notes of all valves unsteady or silent; it began suddenly; the valves work and the slides come.',
    findings: [
      ...notes('silent', 'G3', 'F3', 'D3', 'C4'),
      ...notes('unsteady', 'G4', 'E4'),
      { check: 'began@instrument', saw: 'suddenly' },
      { check: 'work-all-valves@instrument', saw: 'free' },
    ],
    causes: ['object@bore.leadpipe', 'object@bore.bell'],
  },
  {
    id: 'weak on every note, something in the main branch',
    instrument: 'euphonium',
    source: 'Euphonium blockage account, euphonium.net news item 212',
    address: 'http://euphonium.net/home.php?newsID=212',
    told: 'Notes without centre and weak; valves fine with new felts; a wire stopped in the main branch at a solid blockage.',
    reading: 'Notes of all valves unsteady; valves work; heights level.',
    findings: [
      ...notes('unsteady', 'F3', 'E3', 'D3', 'C3', 'Bb2', 'Bb3', 'F4'),
      { check: 'work-all-valves@instrument', saw: 'free' },
      { check: 'look-inside@bore.bell', saw: 'found' },
    ],
    causes: ['object@bore.bell'],
  },
  {
    id: 'buzzes for a year, pin holes',
    instrument: 'horn',
    source: 'Band director’s blog entry on holes in a school horn',
    address: 'http://mrs.pixel5.us/node/42',
    told: 'A school horn buzzes and plays poorly; the tube is discoloured, water shows many pin holes.',
    reading: 'Notes of all valves unsteady; a hole or red patch is seen in the leadpipe (where is not told).',
    findings: [
      ...notes('unsteady', 'G3', 'F3', 'C4', 'G4'),
      { check: 'look-tubing@bore.leadpipe', saw: 'hole' },
    ],
    causes: ['holed@bore.leadpipe'],
  },
  {
    id: 'slide drags after oiling',
    instrument: 'trombone',
    source: 'Analyzing slide trouble, instrumentcare.info',
    address: 'http://www.instrumentcare.info/slidetrouble.htm',
    told: 'A slide drags after oiling, first only far out: dirt washed out of the cork barrel.',
    reading: 'The slide drags; every note speaks.',
    findings: [{ check: 'run-slide@slide.hand', saw: 'drags' }, ...notes('speaks', 'Bb3', 'F3', 'C3')],
    causes: ['sluggish@slide.hand'],
  },
  {
    id: 'slide spoiled by a fall of the case',
    instrument: 'trombone',
    source: 'Tips on avoiding trouble (slide trombone), instrumentcare.info',
    address: 'http://www.instrumentcare.info/avoidingslidetrouble.htm',
    told: 'The action is spoiled after the case was dropped: a blow through the case springs the tubes.',
    reading: 'It was dropped; the slide looks bent.',
    findings: [
      { check: 'dropped@instrument', saw: 'dropped' },
      { check: 'look-slide@slide.hand', saw: 'dented' },
    ],
    causes: ['dented@slide.hand'],
  },
  {
    id: 'tuba mouthpiece stuck',
    instrument: 'tuba',
    source: 'Removing a stuck mouthpiece from a tuba, Instructables',
    address: 'https://www.instructables.com/id/Removing-a-Stuck-Mouthpiece-from-a-Tuba-or-other-/',
    told: 'The mouthpiece is wedged and no puller of that size is there.',
    reading: 'The mouthpiece does not come out by hand.',
    findings: [{ check: 'mouthpiece-out@joint.receiver', saw: 'stuck' }],
    causes: ['stuck@joint.receiver'],
  },
  {
    id: 'a brace has come loose',
    instrument: 'horn',
    source: 'Poor broken horn, blog, 3 October 2009',
    address: 'http://mimiindublin.blogspot.com/2009/10/poor-broken-horn-psf-photo-story.html',
    told: 'A bridge between two tubes of a horn has come loose; its solder joint failed.',
    reading: 'The bracing moves.',
    findings: [{ check: 'wobble@joint.braces', saw: 'moves' }],
    causes: ['loose@joint.braces'],
  },
  {
    id: 'bell ring will not unscrew',
    instrument: 'double-horn',
    source: 'Don’t try this at home, senior repair technician’s blog, 8 September 2013',
    address: 'https://randyjmueller.com/2013/09/08/dont-try-this-at-home/',
    told: 'The ring of a detachable bell will not unscrew; two students twisted, and the bell with it.',
    reading: 'The bell ring does not come apart by hand.',
    findings: [{ check: 'part-joint@joint.bell', saw: 'stuck' }],
    causes: ['stuck@joint.bell'],
  },
];

/** Published cases that say nothing that this program could be asked, and why. */
export const brassCasesLeftOut = [
  {
    id: 'valves scored by abrasive',
    because: 'valves worn by home treatment are no fault of the list; the program forbids polish instead',
  },
  {
    id: 'rotors exchanged at the shop',
    because: 'it plays only slightly off; which rotor stands where is for the shop that took them out',
  },
  {
    id: 'white crust on the stockings',
    because: 'dried silicone is one of the causes of a dragging slide and is treated as that',
  },
  {
    id: 'sousaphone mouthpipe twisted',
    because: 'a crushed tube is a danger sign that ends the run before any diagnosis',
  },
  {
    id: 'mouthpiece with its plating gone',
    because: 'a matter of health and not of notes; a caution says so',
  },
  {
    id: 'patch of red rot',
    because: 'the same sign and cause as the horn with pin holes, without a note told',
  },
  {
    id: 'a mouthpiece wedged in the bell tail',
    because: 'the same finding as the other objects in a horn, without a note told',
  },
] as const;
