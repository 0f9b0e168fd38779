/** Reading lists of findings: which notes failed, what was last said of a note. */
import type { Finding } from '../diagnosis/index.ts';

export type NoteFinding = Extract<Finding, { note: string }>;
export type CheckFinding = Extract<Finding, { check: string }>;

const failing = new Set(['unsteady', 'wrong', 'silent']);

/** True for a finding about a played note. */
export function isNote(finding: Finding): finding is NoteFinding {
  return 'note' in finding;
}

/** True for a finding from a check. */
export function isCheck(finding: Finding): finding is CheckFinding {
  return 'check' in finding;
}

/** The played notes that did not speak as they should. */
export function failedNotes(findings: readonly Finding[]): NoteFinding[] {
  return findings.filter(isNote).filter(({ answered }) => failing.has(answered));
}

/** The findings with one more; an earlier one about the same note or check gives way to it. */
export function withFinding(findings: readonly Finding[], added: Finding): Finding[] {
  return [...findings.filter((finding) => subjectOf(finding) !== subjectOf(added)), added];
}

/** What was last said of a fingering, or null. */
export function answerFor(findings: readonly Finding[], fingering: string): NoteFinding | null {
  return findings.filter(isNote).findLast((finding) => finding.fingering === fingering) ?? null;
}

/** What a finding is about: two about the same do not both stand. */
export function subjectOf(finding: Finding): string {
  return isNote(finding) ? `note ${finding.fingering ?? finding.note}` : `check ${finding.check}`;
}
