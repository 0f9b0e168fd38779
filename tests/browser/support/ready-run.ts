/** Runs brought to a certain step by the API, for tests that are about one page and not about the way to it. */
import type { AnswerBody } from '../../../src/runs/schema.ts';
import type { RunView } from '../../../src/runs/view.ts';
import type { Patient } from '../../support/patient.ts';

export type ReadyOptions = {
  /** Its id; an alto saxophone if nothing is said. */
  readonly instrument?: string;
  /** The first step with this id is where the run is left; without it, the outcome. */
  readonly until?: string;
  /** The answer (its id) at the step with this id; elsewhere what the patient shows, or the first answer. */
  readonly choices?: Readonly<Record<string, string>>;
  /** At the play test: how a note is answered, instead of as the patient answers; null leaves it out. */
  readonly playNote?: (fingering: string, index: number) => AnswerBody | null;
  readonly person?: string;
  readonly complaint?: string;
};

let keys = 0;

/**
 * Opens a run and answers until the step that is wanted.
 *
 * @param address the server
 * @param patient the instrument
 * @returns the code of the run
 * @throws if the API refuses an answer, or the step does not come
 */
export async function makeReadyRun(
  address: string,
  patient: Patient,
  {
    instrument = 'alto-saxophone',
    until,
    choices = {},
    playNote,
    person = 'director',
    complaint,
  }: ReadyOptions = {},
): Promise<string> {
  const opening = {
    instrument,
    person,
    tools: person === 'desk' ? [] : ['screwdriver', 'paper'],
    ...(complaint === undefined ? {} : { complaint }),
  };
  let run = await send(`${address}/api/runs`, opening);
  const answers = `${address}/api/runs/${run.id}/answers`;
  const isPlayed = new Set<string>();
  for (let count = 0; count < 200; count += 1) {
    const { step } = run;
    const waiting = step.notes.find(
      (row, index) =>
        row.answered === null &&
        !isPlayed.has(row.fingering) &&
        (playNote === undefined ? row.group === 'first' : playNote(row.fingering, index) !== null),
    );
    const isThere = step.id === until && (playNote === undefined || waiting === undefined);
    if (isThere || step.kind === 'outcome') break;
    const answer =
      waiting === undefined ? choose(run, patient, choices) : play(run, waiting.fingering, patient, playNote);
    if (waiting !== undefined) isPlayed.add(waiting.fingering);
    run = await send(answers, { revision: run.revision, answer });
  }
  if (until !== undefined && run.step.id !== until)
    throw new Error(`The run came to ${run.step.id} instead of ${until}.`);
  return run.id;
}

function play(
  { step }: RunView,
  fingering: string,
  patient: Patient,
  playNote: ReadyOptions['playNote'],
): AnswerBody {
  const index = step.notes.findIndex((row) => row.fingering === fingering);
  return playNote?.(fingering, index) ?? patient.playNote(fingering);
}

function choose({ step }: RunView, patient: Patient, choices: Readonly<Record<string, string>>): AnswerBody {
  const check = step.id.split('/')[1];
  const wanted = choices[step.id] ?? (check === undefined ? step.choices[0]?.id : patient.answerCheck(check));
  return { type: 'choice', choice: wanted ?? '' };
}

async function send(address: string, body: object): Promise<RunView> {
  keys += 1;
  const response = await fetch(address, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ ...body, key: `ready-run-${process.pid}-${keys}` }),
  });
  if (!response.ok) throw new Error(`${address} refused: ${await response.text()}`);
  return (await response.json()) as RunView;
}
