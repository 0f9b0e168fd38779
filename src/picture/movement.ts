import { type Instrument, ventStates } from '../mechanism/index.ts';

/** What a healthy cup does in a check. */
export type Movement = 'stays-shut' | 'stays-open' | 'closes' | 'opens';

/**
 * What a healthy cup does, computed from the mechanism: between holding the touches and also tapping one, or, without
 * a tap, between nothing pressed and the touches held. Throws RangeError when the instrument has no such vent.
 */
export function expectMovement(
  instrument: Instrument,
  check: { readonly hold: readonly string[]; readonly tap?: string | undefined; readonly watch: string },
): Movement {
  const index = instrument.vents.findIndex((vent) => vent.id === check.watch);
  if (index < 0) throw new RangeError(`${instrument.name} has no vent "${check.watch}" to watch`);
  const isOpen = (touches: readonly string[]) => ventStates(instrument, [...touches], [])[index]!.open;
  const before = isOpen(check.tap === undefined ? [] : check.hold);
  const after = isOpen(check.tap === undefined ? check.hold : [...check.hold, check.tap]);
  if (before === after) return after ? 'stays-open' : 'stays-shut';
  return after ? 'opens' : 'closes';
}
