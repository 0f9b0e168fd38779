/** Findings, chances and lists in words. */
import { noteName } from '../mechanism/index.ts';
import { NOTE_ANSWERS } from './check.ts';
import type { ReadFinding } from './finding.ts';
import type { DiagnosisModel } from './model.ts';
import { sayNote } from './wording.ts';

const SOUNDING = {
  speaks: 'spoke',
  unsteady: 'was unsteady',
  wrong: 'gave another note',
  silent: 'was silent',
} as const;

/** A finding as a clause: "low D (D4) spoke", "“Has it been dropped or knocked?”: yes, or there is a fresh dent". */
export function sayFinding(model: DiagnosisModel, { read }: { readonly read: ReadFinding }): string {
  const check = model.checks[read.position]!;
  const { plan } = model.predictions(read.position).planned;
  const answer = read.answer ?? 0;
  if (plan.by !== 'note') {
    const label = check.answers[answer]!.label;
    return `“${check.title}”: ${label.charAt(0).toLowerCase()}${label.slice(1)}`;
  }
  const { fingering } = plan;
  const name = `${sayNote(model.instrument, fingering.note)}${fingering.kind === 'standard' ? '' : ` (${fingering.name ?? 'another fingering'})`}`;
  const heard = read.sounded === null ? '' : ` (${noteName(read.sounded)})`;
  return `${name} ${SOUNDING[NOTE_ANSWERS[answer]!]}${heard}`;
}

/** "a, b and c". */
export function sayList(items: readonly string[]): string {
  return items.length < 2 ? (items[0] ?? '') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;
}

/**
 * A chance as a frequency, which people read more surely than a percentage (Gigerenzer & Hoffrage 1995, Psychological
 * Review 102(4):684-704): "about 8 in 10".
 */
export function sayChance(chance: number): string {
  if (chance >= 0.95) return 'nearly all';
  if (chance < 0.05) return 'fewer than 1 in 20';
  return `about ${Math.min(9, Math.max(1, Math.round(chance * 10)))} in 10`;
}

/** More notes than this are counted instead of named. */
const NAMED = 6;

/** One sentence on which notes failed and which spoke; none when nothing was played. */
export function saySounding(failed: readonly string[], spoke: readonly string[]): string[] {
  const name = (notes: readonly string[]) =>
    notes.length <= NAMED ? sayList(notes) : `${notes.length} notes`;
  if (failed.length === 0 && spoke.length === 0) return [];
  const all = failed.length + spoke.length === 1 ? 'The one note' : 'Every note';
  if (failed.length === 0) return [`${all} that was played spoke: ${name(spoke)}.`];
  if (spoke.length === 0) return [`${all} that was played failed: ${name(failed)}.`];
  return [`These failed: ${name(failed)}. These spoke: ${name(spoke)}.`];
}
