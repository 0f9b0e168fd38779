/** The short code by which a run is found again. */
import { randomInt } from 'node:crypto';

/** Letters and digits that are not mistaken for one another when read aloud or copied by hand. */
const alphabet = '23456789abcdefghjkmnpqrstuvwxyz';
const groups = 3;
const groupLength = 4;

/** A new code such as `k3m9-x7pq-2vtd`: 59 random bits, so that it cannot be guessed over a network. */
export function newRunCode(): string {
  const group = (): string =>
    Array.from({ length: groupLength }, () => alphabet[randomInt(alphabet.length)]).join('');
  return Array.from({ length: groups }, group).join('-');
}

/** The code as we write it, from the code as somebody typed it (capitals, blanks or missing hyphens). */
export function tidyRunCode(typed: string): string {
  const letters = typed.toLowerCase().replace(/[^a-z0-9]/g, '');
  return letters.match(/.{1,4}/g)?.join('-') ?? '';
}
