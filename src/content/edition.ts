/** What tells one edition of the content from another. */
import { createHash } from 'node:crypto';
import type { Documents } from './documents.ts';

/** The SHA-256, in hexadecimal, of the documents as canonical JSON: keys sorted, no spaces. */
export function editionOf(documents: Documents): string {
  return createHash('sha256').update(toCanonicalJson(documents)).digest('hex');
}

/** JSON in which every object's keys are sorted, so that the same data always give the same text. */
export function toCanonicalJson(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(toCanonicalJson).join(',')}]`;
  if (value === null || typeof value !== 'object') return JSON.stringify(value) ?? 'null';
  const record = value as Record<string, unknown>;
  const pairs = Object.keys(record)
    .filter((key) => record[key] !== undefined)
    .sort()
    .map((key) => `${JSON.stringify(key)}:${toCanonicalJson(record[key])}`);
  return `{${pairs.join(',')}}`;
}
