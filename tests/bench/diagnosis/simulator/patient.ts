/** The instrument in hand while a run goes on: its faults change as screws are turned and things are put right. */
import type { Instrument, PlacedFault, Severity } from '../../../../src/mechanism/index.ts';
import type { Case } from './case.ts';
import { HANDS } from './rates.ts';

export type Patient = {
  /** What is wrong with it now. */
  faults(): PlacedFault[];
  has(fault: string): boolean;
  /** Takes a fault away. */
  mend(fault: string): void;
  /** How far a screw is from where it should be, in eighths of a turn: above 0 it is too far out, below 0 too far in. */
  offset(link: string): number;
  /** Turns a screw inwards by so many eighths (outwards where negative). */
  turnIn(link: string, eighths: number): void;
  /** Eighths by which screws stand otherwise than they were found although nothing was wrong with them. */
  strayTurns(): number;
};

/** Lays the case's instrument on the table. */
export function layOut(the: Case): Patient {
  const { instrument } = the.maker;
  const offsets = new Map<string, number>();
  const turned = new Map<string, number>();
  const rest = the.truth.faults.filter(({ fault, severity }) => {
    if (!isScrew(instrument, fault.place)) return true;
    const [few, many] = HANDS.eighths[severity];
    const eighths = few + Math.floor(the.draws.uniform(`screw/${fault.place}`) * (many - few + 1));
    offsets.set(fault.place, fault.kind === 'slack' ? eighths : -eighths);
    return false;
  });
  let others = rest;
  const wasWrong = new Set(offsets.keys());
  const faults = () => [
    ...others,
    ...[...offsets].flatMap(([link, eighths]) => screwFault(instrument, link, eighths)),
  ];
  return {
    faults,
    has: (id) => faults().some(({ fault }) => fault.id === id),
    mend(id) {
      others = others.filter(({ fault }) => fault.id !== id);
      for (const link of offsets.keys()) if (id.endsWith(`@${link}`)) offsets.set(link, 0);
    },
    offset: (link) => offsets.get(link) ?? 0,
    turnIn(link, eighths) {
      offsets.set(link, (offsets.get(link) ?? 0) - eighths);
      turned.set(link, (turned.get(link) ?? 0) + eighths);
    },
    strayTurns: () =>
      [...turned].reduce((sum, [link, eighths]) => sum + (wasWrong.has(link) ? 0 : Math.abs(eighths)), 0),
  };
}

function isScrew(instrument: Instrument, place: string): boolean {
  return instrument.links.some(({ id, adjuster }) => id === place && adjuster.kind === 'screw');
}

/** The fault that a screw so far off makes; none when it is right. */
function screwFault(instrument: Instrument, link: string, eighths: number): PlacedFault[] {
  if (eighths === 0) return [];
  const { slight, moderate } = HANDS.eighths;
  const off = Math.abs(eighths);
  const severity: Severity = off <= slight[1] ? 'slight' : off <= moderate[1] ? 'moderate' : 'gross';
  return [{ fault: instrument.fault(`${eighths > 0 ? 'slack' : 'tight'}@${link}`), severity }];
}
