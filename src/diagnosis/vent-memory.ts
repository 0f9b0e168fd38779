/** Where every cup stands under every hypothesis, for a few sets of touches: worked out on demand and kept. */
import { type Instrument, type VentState, ventStates } from '../mechanism/index.ts';
import type { Hypotheses } from './hypotheses.ts';

/** How one cup stands; grades 0 none, 1 slight, 2 moderate, 3 gross. */
export type Standing = { readonly isOpen: boolean; readonly leak: number; readonly shortfall: number };

export type VentMemory = {
  /** How a cup stands under a hypothesis with these touches held. @param vent position of the cup. */
  standing(touches: readonly string[], hypothesis: number, vent: number): Standing;
};

// Strengths as the mechanism counts them (1 is the medium leak of the acoustic tables): its three sizes are 0.12, 0.6
// and 3, and sums of them; the limits lie halfway between on a logarithmic scale. A shortfall is a share of 3.
const MODERATE_FROM = Math.sqrt(0.12 * 0.6);
const GROSS_FROM = Math.sqrt(0.6 * 3);
const WHOLE_SHORTFALL = 3;

type Page = { readonly isKnown: Uint8Array; readonly packed: Uint8Array };

/** An empty memory for an instrument and its hypotheses. */
export function createVentMemory(instrument: Instrument, hypotheses: Hypotheses): VentMemory {
  const width = instrument.vents.length;
  const pages = new Map<string, Page>();

  function pageOf(touches: readonly string[]): Page {
    const key = touches.join(' ');
    let page = pages.get(key);
    if (page === undefined) {
      page = { isKnown: new Uint8Array(hypotheses.count), packed: new Uint8Array(hypotheses.count * width) };
      pages.set(key, page);
    }
    return page;
  }

  return {
    standing(touches, hypothesis, vent) {
      const page = pageOf(touches);
      if (page.isKnown[hypothesis] === 0) {
        const states = ventStates(instrument, touches, hypotheses.placed[hypothesis]!);
        for (const [index, state] of states.entries()) page.packed[hypothesis * width + index] = pack(state);
        page.isKnown[hypothesis] = 1;
      }
      return unpack(page.packed[hypothesis * width + vent]!);
    },
  };
}

function grade(strength: number): number {
  if (strength === 0) return 0;
  if (strength < MODERATE_FROM) return 1;
  return strength < GROSS_FROM ? 2 : 3;
}

function pack({ open, leak, restricted }: VentState): number {
  return (open ? 1 : 0) + 2 * grade(leak) + 8 * grade(restricted * WHOLE_SHORTFALL);
}

const STANDINGS: readonly Standing[] = Array.from({ length: 32 }, (_, packed) => ({
  isOpen: packed % 2 === 1,
  leak: (packed >> 1) % 4,
  shortfall: packed >> 3,
}));

function unpack(packed: number): Standing {
  return STANDINGS[packed]!;
}
