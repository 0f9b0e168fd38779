/** The paper version of a flow: the policy of the diagnosis for one complaint, cut down to what two pages hold. */
import {
  type Check,
  describeSuspect,
  type Finding,
  retestNotes,
  type Situation,
  sayChance,
  sayList,
} from '../diagnosis/index.ts';
import {
  type Ending,
  endingKey,
  fitGraph,
  growPolicy,
  inOrder,
  type Lines,
  linesOf,
  openComplaint,
  type Point,
  type Room,
  type Target,
} from '../paper/index.ts';
import { fingeringWords } from '../picture/index.ts';
import type { RunBook } from '../runs/book.ts';
import { fingeringName, playersName } from '../runs/note-names.ts';
import type { Opening } from '../runs/schema.ts';
import { lowerFirst } from '../runs/words.ts';
import type { PaperSheet, PaperWay } from '../web/paper-sheet.ts';
import { beforehand } from './paper-beginning.ts';
import { procedureOnPaper } from './paper-procedure.ts';
import { roomFor, shareTaken, spaceOfQuestion, spaceOfSteps, spaceOfTexts } from './paper-space.ts';

type PaperEnding = PaperSheet['endings'][number];

/** So many questions of the tree are looked at; more hardly find another ending and take seconds longer. */
const mostQuestions = 120;

/**
 * Makes a sheet; takes a second or two.
 *
 * @param book the instrument and the edition
 * @param opening who works with it and with what
 * @param failing ids of the fingerings that fail
 * @throws RangeError for an unknown fingering
 */
export function writePaperSheet(book: RunBook, opening: Opening, failing: readonly string[]): PaperSheet {
  const { model, instrument, content } = book;
  const situation: Situation = {
    person: opening.person,
    tools: opening.tools,
    canPlay: true,
    ownerAllows: true,
  };
  const start = openComplaint(model, opening.person, failing);
  const root = growPolicy(model, { situation, ...start }, mostQuestions);
  const notes = start.played.map((fingering) => ({
    name: fingeringName(instrument, fingering),
    note: fingering.note,
    words: fingeringWords(instrument, fingering),
    fails: failing.includes(fingering.id),
  }));
  const endings = writeEndings(book, opening, root, start.findings);
  const head = { ...beforehand(book, opening), notes };
  const room: Room = {
    lines: roomFor({ ...head, coverage: sayCoverage(1) }),
    ofQuestion: linesOfQuestion,
    ofEnding: (ending) => linesOfEnding(endings.get(endingKey(ending))!),
  };
  const graph = fitGraph(root, room);
  return {
    instrument: { id: instrument.id, name: instrument.name },
    person: opening.person,
    complaint: sayComplaint(book, failing),
    edition: content.edition,
    covered: graph.covered,
    coverage: sayCoverage(graph.covered),
    ...head,
    fill: shareTaken(room.lines, linesOf(graph, room)),
    start: wayTo(graph.start).words,
    questions: graph.questions.map(({ number, check, isProof, answers }, _, all) => ({
      number,
      check: check.id,
      title: check.title,
      ask: check.ask,
      askedAt: before(number, all.find((one) => one.check === check)!.number),
      isProof,
      answers: answers.map(({ id, label, target }) => ({ saw: id, label, when: '', ...wayTo(target) })),
    })),
    endings: graph.endings.map(({ number, ending }, _, all) => {
      const written = endings.get(endingKey(ending))!;
      const steps = stepsKey(written);
      const first = all.find((one) => stepsKey(endings.get(endingKey(one.ending))!) === steps)!.number;
      return { ...written, number, stepsAt: written.steps.length === 0 ? null : before(number, first) };
    }),
  };
}

/** Where the same stands already, if it does. */
function before(number: number, first: number): number | null {
  return first < number ? first : null;
}

function stepsKey({ steps, cautions, words }: PaperEnding): string {
  return JSON.stringify([steps, cautions, words]);
}

/** What is asked stands there once; its answers lead elsewhere each time. */
function linesOfQuestion({ title, ask, answers }: Check): Lines {
  const ways = answers.map(({ label }) => ({ label, when: '', words: 'to the bench' }));
  return {
    own: spaceOfQuestion({ title: `10. ${title} (proof)`, answers: ways }),
    shared: [{ text: ask, lines: spaceOfTexts([ask]) }],
  };
}

/** The steps stand there once, for all endings that have the same. */
function linesOfEnding(ending: PaperEnding): Lines {
  const { title, text, cautions, words, steps, adjusts, retest } = ending;
  const warning = adjusts ? 2 : 0;
  return {
    own: 2 + spaceOfTexts([`End 10. ${title}`, ...text, `Play again. ${retest}`]),
    shared: [
      {
        text: stepsKey(ending),
        lines: warning + spaceOfTexts([`Take care. ${cautions.join(' ')}`, ...words]) + spaceOfSteps(steps),
      },
    ],
  };
}

/** More notes than these are told by the lowest and the highest one. */
const mostNames = 6;

/** Which notes fail, as players say them. @param failing ids of fingerings */
export function sayComplaint({ instrument }: RunBook, failing: readonly string[]): string {
  const played = inOrder(failing.map((id) => instrument.fingering(id)));
  const names = [...new Set(played.map((fingering) => fingeringName(instrument, fingering)))];
  if (names.length > mostNames) return `${names.length} notes fail, from ${names[0]} to ${names.at(-1)}`;
  const list = sayList(names);
  return `${list.charAt(0).toUpperCase()}${list.slice(1)} ${names.length === 1 ? 'fails' : 'fail'}`;
}

function sayCoverage(covered: number): string {
  const chance = sayChance(covered);
  return `${chance.charAt(0).toUpperCase()}${chance.slice(1)} instruments with this complaint are led to one named part by this sheet. The others go to the bench with it, or on to the program on a device, which can ask more.`;
}

/** Where an answer leads, in words. */
function wayTo(target: Target): Omit<PaperWay, 'label' | 'when'> {
  switch (target.to) {
    case 'question':
      return { ...target, words: `go to ${target.number}` };
    case 'ending':
      return { ...target, words: `end ${target.number}` };
    default:
      return { to: 'bench', number: null, words: 'to the bench' };
  }
}

/** The endings of the whole tree in words, by what they say. */
function writeEndings(
  book: RunBook,
  opening: Opening,
  root: Point,
  findings: readonly Finding[],
): Map<string, PaperEnding> {
  const written = new Map<string, PaperEnding>();
  const waiting: Point[] = [root];
  for (let point = waiting.pop(); point !== undefined; point = waiting.pop()) {
    if (point.kind === 'ask') {
      for (const { next } of point.answers) if (next !== null) waiting.push(next);
    } else if (!written.has(endingKey(point.ending))) {
      written.set(endingKey(point.ending), writeEnding(book, opening, point.ending, findings));
    }
  }
  return written;
}

function writeEnding(
  book: RunBook,
  opening: Opening,
  ending: Ending,
  findings: readonly Finding[],
): PaperEnding {
  const plain = {
    number: 0,
    text: [],
    cautions: [],
    adjusts: false,
    words: [],
    steps: [],
    stepsAt: null,
    retest: '',
  };
  if (ending.kind === 'healthy') {
    return {
      ...plain,
      kind: 'healthy',
      fault: null,
      title: 'Nothing is wrong with it',
      text: ['It may be played as usual.'],
    };
  }
  if (ending.fault === null) {
    return {
      ...plain,
      kind: 'bench',
      fault: null,
      title: 'To the bench',
      text: ['What was ticked does not point to one part alone.'],
    };
  }
  const { title, means, tellTheBench } = describeSuspect(book.model, ending.fault);
  const onPaper = ending.kind === 'bench' ? null : procedureOnPaper(book, opening, ending);
  if (onPaper === null) {
    return {
      ...plain,
      kind: 'bench',
      fault: ending.fault,
      title: `To the bench: ${lowerFirst(title)}`,
      text: [tellTheBench],
    };
  }
  return {
    ...plain,
    ...onPaper,
    kind: 'treat',
    fault: ending.fault,
    title,
    text: [means, ...onPaper.text.slice(1)],
    retest: retestWords(book, ending.fault, findings),
  };
}

function retestWords({ model, instrument }: RunBook, fault: string, findings: readonly Finding[]): string {
  const notes = retestNotes(model, fault, findings).map((id) => instrument.fingering(id).note);
  const names = [...new Set(notes)].map((note) => playersName(instrument, note));
  return `softly: ${sayList(names)}. If all speak, it is mended. If not: to the bench, with a word on what was done.`;
}
