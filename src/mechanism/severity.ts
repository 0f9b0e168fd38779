import type { Severity } from './schema.ts';

/** The three words for the size of a fault, smallest first. */
export const SEVERITIES: readonly Severity[] = ['slight', 'moderate', 'gross'];

/**
 * How far a part falls short, by severity, in units of leak strength: strength 1 is the medium leak of the acoustic
 * tables (a gap of 0.10 mm over half the rim). Estimate: nobody has published gaps as they occur. Chosen so that a
 * slight fault is the last quarter turn (the lowest notes a little unsteady), a moderate one spoils the lowest notes
 * and is clear on the middle ones, and a gross one is the tables' large leak and more.
 */
export const STRENGTH: Readonly<Record<Severity, number>> = { slight: 0.12, moderate: 0.6, gross: 3 };

/** The strength at which a part that should open does not open at all. */
export const SHUT = STRENGTH.gross;

/** A lost pad leaves nearly the whole hole open; estimate. */
export const LOST_PAD = 10;
