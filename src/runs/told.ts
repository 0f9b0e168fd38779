/** The complaint as far as it was confirmed: what counts of it as observed, and what only makes suspects likelier. */
import { type DiagnosisModel, type Finding, proofsOf, provedBy, treatmentOf } from '../diagnosis/index.ts';
import type { RunBook } from './book.ts';
import { isCheck, subjectOf, withFinding } from './findings.ts';
import { proofFinding } from './proof.ts';
import type { RunState } from './run-state.ts';

/**
 * The state after these proposals were ticked. A finding that could open the way to a treatment is kept apart (see
 * `told` of the state), so that the real check is asked for before anything is done. Two ticks that say different things
 * of one note or check cancel out: neither can be relied on.
 */
export function confirmProposals({ model }: RunBook, state: RunState, ticked: readonly string[]): RunState {
  const chosen = state.proposals.filter(({ id }) => ticked.includes(id));
  const findings = agreed(chosen.flatMap((proposal) => proposal.findings));
  return {
    ...state,
    confirmed: chosen.map(({ says }) => says),
    told: findings.filter(isCheck).filter((finding) => opensTheWay(model, finding)),
    findings: findings
      .filter((finding) => !opensTheWay(model, finding))
      .reduce<readonly Finding[]>(withFinding, state.findings),
  };
}

/**
 * The state after an answer that tells what the proof of the treated fault shows now. It is told and no proof: before the fault
 * is treated once more, its sign is looked for again.
 */
export function tellProof(book: RunBook, state: RunState, choice: string): RunState {
  const page = book.content.flow.states.get(state.flow.at);
  const shows =
    page !== undefined && 'choices' in page ? page.choices.find(({ id }) => id === choice)?.proof : undefined;
  const finding =
    shows === undefined || state.focus.fault === null ? null : proofFinding(book, state.focus.fault, shows);
  return finding === null
    ? state
    : { ...state, told: [...state.told.filter(({ check }) => check !== finding.check), finding] };
}

/** Findings of which no two contradict each other, each once. */
function agreed(findings: readonly Finding[]): Finding[] {
  const bySubject = Map.groupBy(findings, subjectOf);
  return [...bySubject.values()].flatMap(([first, ...others]) => {
    const isAgreed = others.every((other) => JSON.stringify(other) === JSON.stringify(first));
    return isAgreed && first !== undefined ? [first] : [];
  });
}

/**
 * Whether a finding could help a treatment along as its proof: it proves a fault, or its check can prove one that is then
 * adjusted. The latter because a proof of second rank counts once the first has been asked for.
 */
function opensTheWay(model: DiagnosisModel, finding: Finding): boolean {
  if (!isCheck(finding)) return false;
  if (provedBy(model, finding).length > 0) return true;
  const position = model.positionOf(finding.check);
  return model.hypotheses.faults.some(
    (_, fault) =>
      treatmentOf(model, fault)?.adjusts === true &&
      proofsOf(model, fault).some((proof) => proof.position === position),
  );
}
