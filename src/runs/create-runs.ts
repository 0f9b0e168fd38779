/** The runs: every answer goes through the charts and the diagnosis and onto the disk before it is acknowledged. */
import { createHash } from 'node:crypto';
import { LRUCache } from 'lru-cache';
import type { Content } from '../content/index.ts';
import type { DiagnosisModel } from '../diagnosis/index.ts';
import type { Staves } from '../engraving/index.ts';
import { Problem } from '../problems.ts';
import type { AppendOutcome, RunRow, StoredEntry } from '../store/index.ts';
import { StoreError } from '../store/index.ts';
import { advance, describeTurn, replay } from './advance.ts';
import { openRun, type RunBook } from './book.ts';
import type { Editions } from './editions.ts';
import { concludeRun } from './outcome-view.ts';
import { type EntryBody, type RunState, reviveState, type Turn, turnsThatCount } from './run-state.ts';
import { viewRun } from './run-view.ts';
import type { Receipt, Runs } from './runs.ts';
import type { RunsStore } from './runs-store.ts';
import { viewStep } from './step-view.ts';
import type { RunView } from './view.ts';
import type { WhyView } from './why-schema.ts';
import { viewWhy } from './why-view.ts';

export type RunsParts = {
  readonly store: RunsStore;
  readonly editions: Editions;
  readonly staves: Staves;
  /** Told of the model of an instrument when a run with it is opened or gone on with. */
  readonly warmUp?: (model: DiagnosisModel) => void;
  readonly now: () => Date;
  readonly newCode: () => string;
};

type Loaded = { readonly row: RunRow; readonly state: RunState; readonly book: RunBook };
type Next = { readonly state: RunState; readonly body: EntryBody };
type Wish = { readonly revision: number; readonly key: string };

/** Shown pages of a run change only with its revision, so the last few hundred are kept. */
const keptViews = 500;

const hashOf = (value: unknown): string =>
  createHash('sha256').update(JSON.stringify(value)).digest('base64url');

/**
 * The use cases of runs over a store and the editions of the flows.
 *
 * @param parts the store, the editions, the engraved notes, the clock and the maker of run codes
 */
export function createRuns({ store, editions, staves, warmUp, now, newCode }: RunsParts): Runs {
  const views = new LRUCache<string, RunView>({ max: keptViews });
  const reasons = new LRUCache<string, WhyView>({ max: keptViews });

  function openBook(content: Content, instrument: string, person: string): RunBook {
    const book = openRun(content, instrument, person, staves);
    warmUp?.(book.model);
    return book;
  }

  async function load(id: string): Promise<Loaded> {
    const row = await guard(store.readRun(id));
    if (row === undefined) {
      throw new Problem(
        'unknown-run',
        'No run has this code. Check the code, letter by letter, or start a new run.',
      );
    }
    const content = await editions.find(row.edition);
    return { row, state: reviveState(row.state), book: openBook(content, row.instrument, row.person) };
  }

  async function readTurns(id: string, state: RunState): Promise<Turn[]> {
    const entries = await guard(store.readEntries(id, { to: state.head }));
    return turnsThatCount(
      new Map(entries.map((entry: StoredEntry) => [entry.revision, entry.body as EntryBody])),
      state.head,
    );
  }

  /** The state before the last answer; null at the beginning, and after a change that replaced the answers before it. */
  async function stateBefore(id: string, { head }: RunState): Promise<RunState | null> {
    if (head === 0) return null;
    const [entry] = await guard(store.readEntries(id, { from: head, to: head }));
    const body = entry?.body as EntryBody | undefined;
    return body?.kind === 'answer' ? reviveState(await guard(store.readStateAt(id, body.after))) : null;
  }

  /** Stores what `make` says follows; a wish that comes late or twice never gets that far. */
  async function append(
    id: string,
    wish: Wish,
    request: unknown,
    make: (loaded: Loaded) => Promise<Next>,
  ): Promise<Receipt> {
    const loaded = await load(id);
    const isLate = loaded.row.revision !== wish.revision;
    // A late wish is offered with nothing in it: the store knows whether it is a repeat and cannot take it.
    const next = isLate ? { state: {}, body: {} } : await make(loaded);
    const revision = wish.revision + 1;
    const outcome = await guard(
      store.append({
        runId: id,
        revision,
        key: wish.key,
        at: now().toISOString(),
        body: next.body,
        bodyHash: hashOf(request),
        state: isLate ? {} : { ...(next.state as RunState), head: headAfter(next as Next, revision) },
        closed: !isLate && isEnded(loaded.book, (next as Next).state),
      }),
    );
    return receiptFor(outcome, revision);
  }

  return {
    async open(opening, key) {
      const content = editions.current;
      const book = openBook(content, opening.instrument, opening.person);
      return guard(
        store.createRun({
          id: newCode(),
          instrument: opening.instrument,
          person: opening.person,
          edition: content.edition,
          openedAt: now().toISOString(),
          state: book.begin(opening),
          creationKey: key,
        }),
      );
    },

    async view(id) {
      const { row, state, book } = await load(id);
      const cacheKey = `${id}:${row.revision}`;
      const kept = views.get(cacheKey);
      if (kept !== undefined) return kept;
      await prepareStaves(book, state);
      const view = viewRun(book, row, state, await readTurns(id, state), await stateBefore(id, state));
      views.set(cacheKey, view);
      return view;
    },

    answer: (id, request) =>
      append(id, request, ['answer', request.revision, request.answer], async ({ state, book }) => ({
        state: advance(book, state, request.answer),
        body: { kind: 'answer', after: state.head, turn: describeTurn(book, state, request.answer) },
      })),

    undo: (id, request) =>
      append(id, request, ['undo', request.revision], async ({ state, book }) => {
        if (state.head === 0)
          throw new Problem('nothing-to-undo', 'No answer has been given yet, so none can be taken back.');
        const [entry] = await guard(store.readEntries(id, { from: state.head, to: state.head }));
        const body = entry?.body as EntryBody | undefined;
        if (body?.kind === 'answer') {
          const before = reviveState(await guard(store.readStateAt(id, body.after)));
          return { state: before, body: { kind: 'undo', head: body.after } };
        }
        const turns = (await readTurns(id, state)).slice(0, -1);
        return rebuild(book, reviveState(await guard(store.readStateAt(id, 0))), turns, 'undo');
      }),

    async earlierStep(id, entry) {
      const { row, state, book } = await load(id);
      const turns = await readTurns(id, state);
      const turn = findTurn(turns, entry);
      const opening = reviveState(await guard(store.readStateAt(id, 0)));
      const before = replay(book, opening, turns.slice(0, entry - 1)).state;
      await prepareStaves(book, before);
      const step = viewStep(book, before, row);
      const notes = step.notes.filter(
        (note) => turn.answer.type === 'note' && note.fingering === turn.answer.fingering,
      );
      const ticked = turn.answer.type === 'proposals' ? turn.answer.ticked : [];
      const proposals = step.proposals.map((proposal) => ({
        ...proposal,
        isTicked: ticked.includes(proposal.id),
      }));
      return { step: { ...step, notes, proposals }, answered: turn.answered, revision: row.revision };
    },

    change: (id, request) =>
      append(
        id,
        request,
        ['change', request.revision, request.entry, request.answer],
        async ({ state, book }) => {
          const turns = await readTurns(id, state);
          findTurn(turns, request.entry);
          const opening = reviveState(await guard(store.readStateAt(id, 0)));
          const kept = replay(book, opening, turns.slice(0, request.entry - 1));
          const changed = describeTurn(book, kept.state, request.answer);
          return rebuild(book, opening, [...kept.turns, changed, ...turns.slice(request.entry)], 'change');
        },
      ),

    async outcome(id) {
      const { row, state, book } = await load(id);
      if (!isEnded(book, state)) {
        throw new Problem(
          'run-not-ended',
          'This run has not come to its end yet. Answer its current step first.',
        );
      }
      await prepareStaves(book, state);
      return concludeRun(book, state, row);
    },

    async why(id) {
      const { row, state, book } = await load(id);
      const cacheKey = `${id}:${row.revision}`;
      const view = reasons.get(cacheKey) ?? viewWhy(book, row, state);
      reasons.set(cacheKey, view);
      return view;
    },
  };
}

/** Waits for the engraved notes where the step shows any; elsewhere nobody need wait for them. */
async function prepareStaves({ content, instrument, staves }: RunBook, state: RunState): Promise<void> {
  const { kind } = content.flow.step(state.flow);
  if (kind === 'notes' || kind === 'check' || kind === 'outcome') await staves.prepare(instrument);
}

/** An undo leads back to an earlier entry; every other entry is itself the last answer that counts. */
function headAfter(next: Next, revision: number): number {
  if (next.body.kind === 'undo') return next.body.head;
  if (next.body.kind === 'rebuilt' && next.body.turns.length === 0) return 0;
  return revision;
}

function rebuild(book: RunBook, opening: RunState, turns: readonly Turn[], why: 'undo' | 'change'): Next {
  const { state, turns: taken } = replay(book, opening, turns);
  return { state, body: { kind: 'rebuilt', why, turns: taken } };
}

function isEnded(book: RunBook, state: RunState): boolean {
  return book.content.flow.step(state.flow).kind === 'outcome';
}

function findTurn(turns: readonly Turn[], entry: number): Turn {
  const turn = turns[entry - 1];
  if (turn === undefined) {
    throw new Problem('unknown-answer', `This run has no answer number ${entry}; it has ${turns.length}.`, {
      extra: { answers: turns.length },
    });
  }
  return turn;
}

function receiptFor(outcome: AppendOutcome, revision: number): Receipt {
  switch (outcome.outcome) {
    case 'stored':
      return { outcome: 'stored', revision };
    case 'repeated':
      return { outcome: 'repeated', revision: outcome.revision };
    case 'stale':
      throw new Problem(
        'stale-step',
        'Somebody, or another page of yours, has answered this run in the meantime. Nothing was changed. Look at the current step and answer that.',
        { extra: { revision: outcome.revision } },
      );
    case 'key-reused':
      throw new Problem(
        'key-reused',
        'This key came with another answer before. Send each new answer under a new key; the earlier answer stands.',
        { extra: { revision: outcome.revision } },
      );
    case 'unknown-run':
      throw new Problem(
        'unknown-run',
        'No run has this code. Check the code, letter by letter, or start a new run.',
      );
  }
}

/** Store errors as problems that a reader can act on; everything else passes. */
async function guard<T>(work: Promise<T>): Promise<T> {
  try {
    return await work;
  } catch (error) {
    if (error instanceof StoreError) throw new Problem('store-unavailable', error.message, { cause: error });
    throw error;
  }
}
