/** The real vocabulary and the real instruments, and readings put short. */
import { type Reading, readComplaint } from '../../../src/complaint/index.ts';
import { loadContent } from '../../../src/content/index.ts';
import type { DiagnosisModel, Finding } from '../../../src/diagnosis/index.ts';
import type { Instrument } from '../../../src/mechanism/index.ts';

export const content = loadContent(new URL('../../../flows/', import.meta.url).pathname);

/** An instrument with its diagnosis. */
export function instrumentOf(id: string): { instrument: Instrument; model: DiagnosisModel } {
  const found = content.instruments.get(id);
  if (found === undefined) throw new RangeError(`no instrument "${id}"`);
  return found;
}

export const alto = instrumentOf('alto-saxophone');
export const vocabulary = content.vocabulary!;

/** What an alto player's words are read as. */
export function read(text: string): Reading {
  return readComplaint(alto.instrument, alto.model, vocabulary, text);
}

/** A finding in one word: "D4=silent", "lift@cup.gsharp=tacky". */
export function tell(finding: Finding): string {
  return 'check' in finding ? `${finding.check}=${finding.saw}` : `${finding.note}=${finding.answered}`;
}

/** The findings of the likely readings. */
export function likely(text: string): string[] {
  return read(text)
    .proposals.filter(({ isLikely }) => isLikely)
    .flatMap(({ findings }) => findings.map(tell));
}

/** The findings of the other readings, one row each. */
export function perhaps(text: string): string[][] {
  return read(text)
    .proposals.filter(({ isLikely }) => !isLikely)
    .map(({ findings }) => findings.map(tell));
}
