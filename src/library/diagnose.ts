/** A diagnosis without a run: findings in, suspects and next checks out. */
import { readComplaint } from '../complaint/index.ts';
import type { Content, InstrumentContent } from '../content/index.ts';
import {
  addFinding,
  type Belief,
  COULD_NOT_TELL,
  checkOf,
  explain,
  type Finding,
  nextChecks,
  type Situation,
  startBelief,
  suspects,
  Tool,
} from '../diagnosis/index.ts';
import { noteName, parseNote } from '../mechanism/index.ts';
import { Problem } from '../problems.ts';
import type { DiagnosisRequest, DiagnosisView } from '../web/library.ts';

/** Suspects below this share are summed up in `rest`; checks beyond this many are not listed. Figures of ours. */
const listedFrom = 0.0005;
const listedChecks = 10;

/**
 * What the findings of a request say, and what its complaint may mean.
 *
 * @param vocabulary the words of complaints; null: complaints are not read
 * @throws Problem `unknown-note`, `unknown-check` or `unknown-answer`, with the field and what is known
 */
export function diagnose(
  { instrument, model }: InstrumentContent,
  vocabulary: Content['vocabulary'],
  request: DiagnosisRequest,
): DiagnosisView {
  const person = request.person ?? 'director';
  const findings = request.findings as readonly Finding[];
  let belief: Belief = startBelief(model);
  for (const [index, finding] of findings.entries()) {
    checkFinding(model, finding, index);
    belief = addFinding(model, belief, finding, person);
  }
  const all = suspects(model, belief).faults;
  const listed = all.filter(({ probability }, index) => probability >= listedFrom || index < 3);
  const explanation = explain(model, belief, findings);
  // Without a run nothing is known of what is to hand, so every check that the person could do is offered.
  const situation: Situation = { person, tools: [...Tool.options], canPlay: true, ownerAllows: true };
  const asked = new Set(findings.map((finding) => checkOf(model, finding)));
  const reading =
    vocabulary === null ? null : readComplaint(instrument, model, vocabulary, request.complaint ?? '');
  return {
    suspects: listed.map(({ fault, title, kind, place, probability }) => ({
      fault,
      title,
      kind,
      place,
      probability,
      because: [...(explanation.because.get(fault) ?? [])],
    })),
    rest: Math.max(0, 1 - listed.reduce((sum, { probability }) => sum + probability, 0)),
    nextChecks: nextChecks(model, belief, situation, asked)
      .slice(0, listedChecks)
      .map(({ check, title, bits, cost }) => ({ check, title, bits, cost })),
    explanation: explanation.sentences.join(' '),
    pattern: {
      failed: [...explanation.failed],
      spoke: [...explanation.spoke],
      shared: explanation.shared,
      against: explanation.against.map(({ fault, because }) => ({ fault, because })),
    },
    proposals: (reading?.proposals ?? []).map(({ says, isLikely, findings }) => ({
      says,
      isLikely,
      findings: [...findings],
    })),
    notUnderstood: [...(reading?.leftOver ?? [])],
  };
}

function checkFinding(model: InstrumentContent['model'], finding: Finding, index: number): void {
  const pointer = `/findings/${index}`;
  if ('check' in finding) {
    checkCheck(model, finding, pointer);
    return;
  }
  checkNote(model, finding.note, `${pointer}/note`);
  if (finding.sounded !== undefined && parseNote(finding.sounded) === null) {
    refuseNote(
      `"${finding.sounded}" is no note name. Write it like Bb3 or C#4.`,
      `${pointer}/sounded`,
      notesOf(model),
    );
  }
  const isKnown =
    finding.fingering === undefined || model.instrument.fingerings.some(({ id }) => id === finding.fingering);
  if (!isKnown) {
    const known = model.instrument.fingerings.map(({ id }) => id);
    refuseNote(
      `There is no fingering "${finding.fingering}" on this instrument.`,
      `${pointer}/fingering`,
      known,
    );
  }
}

function checkNote(model: InstrumentContent['model'], note: string, pointer: string): void {
  const number = parseNote(note);
  const known = notesOf(model);
  if (number === null) refuseNote(`"${note}" is no note name. Write it like Bb3 or C#4.`, pointer, known);
  else if (!known.includes(noteName(number)))
    refuseNote(`The ${model.instrument.name} has no written ${note}.`, pointer, known);
}

function checkCheck(
  model: InstrumentContent['model'],
  { check, saw }: { check: string; saw: string },
  pointer: string,
): void {
  if (!model.hasCheck(check)) {
    const known = model.checks.filter(({ kind }) => kind !== 'play').map(({ id }) => id);
    throw new Problem('unknown-check', `There is no check "${check}" on this instrument.`, {
      fields: [
        {
          pointer: `${pointer}/check`,
          detail: 'Give the id of a check of this instrument; they are listed with the instrument.',
        },
      ],
      extra: { known },
    });
  }
  const known = [...model.check(check).answers.map(({ id }) => id), COULD_NOT_TELL];
  if (known.includes(saw)) return;
  throw new Problem(
    'unknown-answer',
    `"${saw}" is not an answer to ${check}. The answers are: ${known.join(', ')}.`,
    {
      fields: [{ pointer: `${pointer}/saw`, detail: `Give one of: ${known.join(', ')}.` }],
      extra: { known },
    },
  );
}

function notesOf({ instrument }: InstrumentContent['model']): string[] {
  const notes = instrument.fingerings.filter(({ kind }) => kind === 'standard').map(({ note }) => note);
  return [...new Set(notes)];
}

function refuseNote(detail: string, pointer: string, known: readonly string[]): never {
  throw new Problem('unknown-note', detail, {
    fields: [{ pointer, detail: `Give one of: ${known.join(', ')}.` }],
    extra: { known },
  });
}
