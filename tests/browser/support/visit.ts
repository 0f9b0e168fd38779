/** One person with one run in a real browser: reads the page, and answers by what stands on its buttons. */
import type { Locator, Page } from 'playwright-core';
import type { RunView, StepView } from '../../../src/runs/view.ts';
import type { Patient } from '../../support/patient.ts';
import type { Hands } from './hands.ts';

export type Opening = {
  /** As it stands on the page; the alto saxophone if nothing is said. */
  readonly instrument?: string;
  /** The words beside the option: "Band director", "Student helper", "Shop desk". */
  readonly who: string;
  /** The words beside the boxes to tick. */
  readonly toHand?: readonly string[];
  readonly complaint?: string;
};

/** What to press at which step (by the step's id): the words on the button, or the words for each visit. */
export type Presses = Readonly<Record<string, string | ((visit: number) => string)>>;

/** A row of the play-test page, by what stands on it: "low C sharp", "C#4". */
export type PlayedNote = Pick<StepView['notes'][number], 'name' | 'note'>;

export type Visit = {
  readonly hands: Hands;
  readonly page: Page;
  readonly address: string;
  /** The code of the run, out of the page's address. */
  code(): string;
  /** The run as the API tells it: used only to know which step the page shows. */
  run(): Promise<RunView>;
  /** Presses the answer with exactly these words. */
  answer(label: string): Promise<void>;
  /** Answers one note of the play-test page. */
  answerNote(row: PlayedNote, label: string): Promise<void>;
  /**
   * Answers step after step, until the outcome or the first step with one of the ids in `until`.
   *
   * @param patient asked anew at each step, so that a story can mend it on the way
   * @param options `look` is called at each step before it is answered
   * @returns every step with what was pressed, as "step id: words on the button"
   * @throws if there is no end after 150 answers
   */
  walk(patient: () => Patient, presses: Presses, options?: WalkOptions): Promise<string[]>;
};

export type WalkOptions = {
  readonly until?: readonly string[];
  /**
   * So many notes of a page are tapped; the others are told to the API, and the page is opened anew. All are tapped if
   * nothing is said; many walks take less time with few.
   */
  readonly taps?: number;
  readonly look?: (step: StepView) => Promise<void>;
};

const noteWords = {
  speaks: 'Speaks',
  unsteady: 'Unsteady',
  wrong: 'Wrong note',
  silent: 'Silent',
  'could-not-tell': 'Could not tell',
} as const;

/** Opens the start page, says who is there and with what, and starts the run. */
export async function openVisit(hands: Hands, address: string, opening: Opening): Promise<Visit> {
  const { page } = hands;
  await page.goto(address);
  const choose = (role: 'radio' | 'checkbox', name: string): Promise<void> =>
    hands.press(page.getByRole(role, { name }));
  await chooseInstrument(hands, opening.instrument ?? 'Alto saxophone');
  await choose('radio', opening.who);
  for (const tool of opening.toHand ?? []) await choose('checkbox', tool);
  if (opening.complaint !== undefined)
    await hands.write(page.getByLabel('What is the complaint?'), opening.complaint);
  await hands.press(page.getByRole('button', { name: 'Start', exact: true }));
  await page.waitForURL(/\/r\//);
  return continueVisit(hands, address);
}

/** Opens the family of an instrument on the start page, and chooses the instrument. */
export async function chooseInstrument(hands: Hands, name: string): Promise<void> {
  const { page } = hands;
  const label = page.getByText(name, { exact: true });
  const family = page.locator('details.family').filter({ has: label });
  if ((await family.getAttribute('open')) === null) await hands.press(family.locator('summary'));
  await hands.press(family.locator('label').filter({ has: label }).getByRole('radio'));
}

/** Goes on with the run that the page shows. */
export function continueVisit(hands: Hands, address: string): Visit {
  const { page } = hands;
  const code = (): string => new URL(page.url()).pathname.split('/')[2] ?? '';
  const run = async (): Promise<RunView> => {
    const response = await fetch(`${address}/api/runs/${code()}`);
    if (!response.ok) throw new Error(`The API knows no run for ${page.url()}: ${response.status}`);
    return (await response.json()) as RunView;
  };

  const answer = async (label: string): Promise<void> => {
    const button = page.getByRole('button', { name: label, exact: true }).first();
    await Promise.all([page.waitForEvent('load'), hands.press(button)]);
  };

  const answerNote = async (row: PlayedNote, label: string): Promise<void> => {
    const section = noteSection(page, row);
    const button = section.getByRole('button', { name: label, exact: true });
    await hands.press(button);
    await section.locator(`[aria-pressed="true"]`, { hasText: label }).waitFor();
  };

  /** Answers every note that waits on the page by the API. */
  const tellNotes = async (patient: Patient): Promise<void> => {
    for (;;) {
      const { id, revision, step } = await run();
      const waiting = waitingNote(step);
      if (waiting === undefined) break;
      const response = await fetch(`${address}/api/runs/${id}/answers`, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({
          revision,
          key: `told-${id}-${revision}`,
          answer: patient.playNote(waiting.fingering),
        }),
      });
      if (!response.ok) throw new Error(`The API refused a note: ${await response.text()}`);
    }
    await page.reload();
  };

  const walk: Visit['walk'] = async (patient, presses, { until = [], taps = Infinity, look } = {}) => {
    const path: string[] = [];
    let tapped = 0;
    const visits = new Map<string, number>();
    for (let count = 0; count < 150; count += 1) {
      const { step } = await run();
      await look?.(step);
      if (step.kind === 'outcome' || until.includes(step.id)) return path;
      const waiting = waitingNote(step);
      if (waiting === undefined) tapped = 0;
      else if (tapped >= taps) {
        await tellNotes(patient());
        continue;
      } else {
        tapped += 1;
        // What is worth playing changes with what was found; the page shows that when it is opened anew.
        if (!(await noteSection(page, waiting).isVisible())) await page.reload();
        const { answered } = patient().playNote(waiting.fingering);
        await answerNote(waiting, noteWords[answered]);
        continue;
      }
      const visit = visits.get(step.id) ?? 0;
      visits.set(step.id, visit + 1);
      const label = labelAt(step, patient(), presses, visit);
      path.push(`${step.id}: ${label}`);
      await answer(label);
    }
    throw new Error(`no end after 150 answers: ${path.join(' > ')}`);
  };

  return { hands, page, address, code, run, answer, answerNote, walk };
}

function waitingNote({ notes }: StepView): StepView['notes'][number] | undefined {
  return notes.find((row) => row.answered === null && row.group === 'first');
}

/** The row of one note on the play-test page, found by the name that it carries. */
export function noteSection(page: Page, { name, note }: PlayedNote): Locator {
  return page.getByRole('region', { name: `${name} ${note}`, exact: true });
}

function labelAt(step: StepView, patient: Patient, presses: Presses, visit: number): string {
  const wanted = presses[step.id];
  if (typeof wanted === 'string') return wanted;
  if (wanted !== undefined) return wanted(visit);
  const check = step.id.split('/')[1];
  const id =
    step.kind === 'check' && check !== undefined
      ? patient.answerCheck(check)
      : (step.choices.find(({ tone }) => tone === 'plain') ?? step.choices[0])?.id;
  const label = step.choices.find((choice) => choice.id === id)?.label;
  if (label === undefined) throw new Error(`the step ${step.id} offers no answer "${id}"`);
  return label;
}
