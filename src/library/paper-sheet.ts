/** The paper version of a flow: the policy of the diagnosis for one complaint, cut down to what two pages hold. */
import {
  describeSuspect,
  type Finding,
  retestNotes,
  type Situation,
  sayChance,
  sayList,
} from '../diagnosis/index.ts';
import type { FlowState } from '../flow/index.ts';
import {
  drawGraph,
  type Ending,
  growPolicy,
  openComplaint,
  type Point,
  type SheetGraph,
  type Target,
} from '../paper/index.ts';
import { fingeringWords } from '../picture/index.ts';
import type { RunBook } from '../runs/book.ts';
import { fingeringName, playersName } from '../runs/note-names.ts';
import type { Opening } from '../runs/schema.ts';
import { stepInWords } from '../runs/words.ts';
import type { PaperSheet, PaperWay } from '../web/paper-sheet.ts';
import { procedureOnPaper, sentence } from './paper-procedure.ts';
import { roomFor, spaceOf } from './paper-space.ts';

type PaperEnding = PaperSheet['endings'][number];

/** So many questions of the tree are looked at; more hardly find another ending and take seconds longer. */
const mostQuestions = 60;

/**
 * Makes a sheet. Yields after every few milliseconds of work, so that others are served in between.
 *
 * @param book the instrument and the edition
 * @param opening who works with it and with what
 * @param failing ids of the fingerings that fail
 * @throws RangeError for an unknown fingering
 */
export function* writePaperSheet(
  book: RunBook,
  opening: Opening,
  failing: readonly string[],
): Generator<void, PaperSheet, void> {
  const { model, instrument, content } = book;
  const situation: Situation = {
    person: opening.person,
    tools: opening.tools,
    canPlay: true,
    ownerAllows: true,
  };
  const start = openComplaint(model, opening.person, failing);
  yield;
  const root = yield* growPolicy(model, { situation, ...start }, mostQuestions);
  const { steps, cautions } = beforehand(book, opening);
  const notes = start.played.map((fingering) => ({
    name: fingeringName(instrument, fingering),
    note: fingering.note,
    words: fingeringWords(instrument, fingering),
    fails: failing.includes(fingering.id),
  }));
  const endings = yield* writeEndings(book, opening, root, start.findings);
  const head = { before: steps, cautions, notes };
  const graph = yield* cutToFit(root, endings, roomFor(head));
  return {
    instrument: { id: instrument.id, name: instrument.name },
    person: opening.person,
    complaint: sayComplaint(book, failing),
    edition: content.edition,
    covered: graph.covered,
    coverage: sayCoverage(graph.covered),
    ...head,
    start: wayTo(graph.start).words,
    questions: graph.questions.map(({ number, check, isProof, answers }) => ({
      number,
      check: check.id,
      title: check.title,
      ask: check.ask,
      isProof,
      answers: answers.map(({ id, label, target }) => ({ saw: id, label, ...wayTo(target) })),
    })),
    endings: graph.endings.map(({ number, ending }) => ({ ...endings.get(keyOf(ending))!, number })),
  };
}

/** Which notes fail, as players say them. */
export function sayComplaint({ instrument }: RunBook, failing: readonly string[]): string {
  const names = failing.map((id) => instrument.fingering(id)).map((one) => fingeringName(instrument, one));
  const list = sayList([...new Set(names)]);
  return `${list.charAt(0).toUpperCase()}${list.slice(1)} ${names.length === 1 ? 'fails' : 'fail'}`;
}

function sayCoverage(covered: number): string {
  const chance = sayChance(covered);
  return `${chance.charAt(0).toUpperCase()}${chance.slice(1)} instruments with this complaint come to an ending on this sheet. The others go to the bench, with what has been ticked.`;
}

const keyOf = (ending: Ending): string => JSON.stringify(ending);

/** Where an answer leads, in words. */
function wayTo(target: Target): Omit<PaperWay, 'label'> {
  switch (target.to) {
    case 'question':
      return { ...target, words: `go to ${target.number}` };
    case 'ending':
      return { ...target, words: `end ${target.number}` };
    default:
      return { to: 'bench', number: null, words: 'to the bench' };
  }
}

/**
 * Leaves out endings and questions until the sheet fits: of the endings those that take most room for what they cover,
 * of the questions those that are reached least.
 */
function* cutToFit(
  root: Point,
  endings: ReadonlyMap<string, PaperEnding>,
  room: number,
): Generator<void, SheetGraph, void> {
  let best = drawGraph(root, 0, () => false);
  const left = new Set<string>();
  for (let attempt = 0; attempt <= endings.size; attempt += 1) {
    const keep = (ending: Ending) => !left.has(keyOf(ending));
    for (let most = 1; most <= mostQuestions; most += 1) {
      const graph = drawGraph(root, most, keep);
      yield;
      if (takes(graph, endings) > room) break;
      if (graph.covered > best.covered + 0.005) best = graph;
    }
    const whole = drawGraph(root, mostQuestions, keep);
    const dearest = whole.endings
      .map(({ ending, reach }) => ({
        key: keyOf(ending),
        worth: reach / spaceOf(endings.get(keyOf(ending))!),
      }))
      .sort((one, other) => one.worth - other.worth)[0];
    if (dearest === undefined) break;
    left.add(dearest.key);
  }
  return best;
}

function takes({ questions, endings: used }: SheetGraph, endings: ReadonlyMap<string, PaperEnding>): number {
  const asked = questions.map(({ check, answers }) =>
    spaceOf({
      title: '',
      text: [check.ask],
      steps: answers.map(({ label }) => ({ ask: '', ways: [{ label, words: 'go to 10' }] })),
    }),
  );
  const ended = used.map(({ ending }) => spaceOf(endings.get(keyOf(ending))!));
  return [...asked, ...ended].reduce((sum, lines) => sum + lines, 0);
}

/** The endings of the whole tree in words, by what they say. */
function* writeEndings(
  book: RunBook,
  opening: Opening,
  root: Point,
  findings: readonly Finding[],
): Generator<void, Map<string, PaperEnding>, void> {
  const written = new Map<string, PaperEnding>();
  const waiting: Point[] = [root];
  for (let point = waiting.pop(); point !== undefined; point = waiting.pop()) {
    if (point.kind === 'ask') {
      for (const { next } of point.answers) if (next !== null) waiting.push(next);
    } else if (!written.has(keyOf(point.ending))) {
      written.set(keyOf(point.ending), writeEnding(book, opening, point.ending, findings));
      yield;
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
  const plain = { number: 0, text: [], cautions: [], adjusts: false, words: [], steps: [], retest: '' };
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

/** Only where a sentence begins with an article: a note's name keeps its capital. */
function lowerFirst(title: string): string {
  return /^(The|A|An|Something|Nothing)\b/.test(title)
    ? title.charAt(0).toLowerCase() + title.slice(1)
    : title;
}

function retestWords({ model, instrument }: RunBook, fault: string, findings: readonly Finding[]): string {
  const notes = retestNotes(model, fault, findings).map((id) => instrument.fingering(id).note);
  const names = [...new Set(notes)].map((note) => playersName(instrument, note));
  return `Play again, softly: ${sayList(names)}. If all speak, it is mended. If not, to the bench; say what was done.`;
}

/** What comes before the notes: the charts’ pages up to the first verdict, each with the answers that end there and then. */
function beforehand(
  book: RunBook,
  opening: Opening,
): { steps: PaperSheet['before']; cautions: PaperSheet['cautions'] } {
  const { flow } = book.content;
  const begun = book.begin(opening);
  const steps: PaperSheet['before'] = [];
  const cautions = new Set<string>();
  let now: FlowState = begun.flow;
  for (let kind = flow.step(now).kind; kind !== 'weigh' && kind !== 'notes'; kind = flow.step(now).kind) {
    const { step, fill } = stepInWords(book, { ...begun, flow: now });
    for (const { brief } of step.cautions) cautions.add(sentence(brief));
    const after = (choice: string): FlowState | null => {
      const taken = flow.take(now, { type: 'choice', choice });
      return 'refused' in taken ? null : taken.state;
    };
    const ways = step.choices.flatMap(({ id, label }): PaperWay[] => {
      const next = after(id);
      const outcome = next === null ? undefined : flow.step(next).outcome;
      return outcome === undefined ? [] : [{ label, to: 'bench', number: null, words: outcome.title }];
    });
    const title = fill(step.title);
    const ask = `${title}${title.endsWith('?') ? '' : '.'} ${fill(step.onPaper).replace(/\n\n/g, ' ')}`;
    steps.push({ ask, ways });
    const next = after(step.choices[0]!.id);
    if (next === null) break;
    now = next;
  }
  return { steps, cautions: [...cautions] };
}
