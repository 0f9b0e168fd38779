import { describe, expect, it } from 'vitest';
import { type Fingering, type VentState, ventStates } from '../../src/mechanism/index.ts';
import published from './published/link-consequences.json' with { type: 'json' };
import { alto, placed } from './support/alto.ts';

/**
 * Where we differ from the derived lists, and why. Two general rules of ours go further than they do:
 * - a bar that is stopped short closes nothing fully, so with the bis screw too tight the G sharp cup, once a table
 *   touch has freed it, is not held either;
 * - a touch that is stopped short also opens a little less.
 */
const DIFFERENCES: Readonly<Record<string, Readonly<Record<string, readonly string[]>>>> = {
  'tight@link.fsharp-holds-bis': {
    'cup.gsharp': [
      ...['fg.Bb3', 'fg.B3', 'fg.Cs4', 'fg.Cs5-long', 'fg.D5-lowB', 'fg.Eb5-lowB', 'fg.E5-lowB'],
      ...['test.D4+gsharp', 'test.C4+gsharp', 'test.F4+gsharp', 'test.Fs4+gsharp'],
    ],
  },
  'tight@link.b-closes-c': { 'cup.palm-f': ['fg.E6-front', 'fg.F6-front', 'fg.Fs6-front'] },
  'tight@link.frontf-closes-b': { 'cup.palm-f': ['fg.E6-front', 'fg.F6-front', 'fg.Fs6-front'] },
  'tight@link.bb-closes-b': { 'cup.gsharp': ['fg.Gs4-Bb'] },
  'tight@link.b-holds-csharp': { 'cup.gsharp': ['fg.Gs4-B', 'fg.Gs4-Bb'] },
};

/** The cups of the fingering's air column that stand otherwise than on a healthy instrument. */
function troubledCups(fingering: Fingering, fault: string): string[] {
  const healthy = ventStates(alto, fingering.touches, []);
  const states = ventStates(alto, fingering.touches, [placed(fault)]);
  const openHoles = alto.vents.flatMap((vent, index) =>
    vent.note !== null && healthy[index]!.open ? [index] : [],
  );
  const end = openHoles[fingering.register === 3 ? 1 : 0] ?? alto.vents.length;
  return alto.vents
    .filter(
      (vent, index) =>
        (index <= end || vent.registerVent !== undefined) && differs(states[index]!, healthy[index]!),
    )
    .map(({ id }) => id);
}

function differs(state: VentState, healthy: VentState): boolean {
  return state.open !== healthy.open || state.leak > 0 || state.restricted > 0;
}

// Sources by id in published/link-consequences.json.
describe('cups that stand otherwise when a link is out of adjustment', () => {
  it('has a list for every link, slack and tight', () => {
    const faults = alto.faults.filter(({ kind }) => kind === 'slack' || kind === 'tight').map(({ id }) => id);
    expect(published.links.map(({ fault }) => fault).sort()).toEqual([...faults].sort());
  });

  it.each(published.links)('are the derived ones with $fault', ({ fault, troubled }) => {
    for (const fingering of alto.fingerings) {
      const listed =
        troubled.find(({ fingerings }) => (fingerings as string[]).includes(fingering.id))?.cups ?? [];
      const added = Object.entries(DIFFERENCES[fault] ?? {}).flatMap(([cup, ids]) =>
        ids.includes(fingering.id) ? [cup] : [],
      );
      expect(troubledCups(fingering, fault).sort(), fingering.id).toEqual([...listed, ...added].sort());
    }
  });
});
