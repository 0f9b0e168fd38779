/**
 * The note that is held while a key is tapped, worked out from the mechanism for every instrument of the content.
 * That low notes are played while the G sharp touch is tapped: common practice, no source.
 */
import { describe, expect, it } from 'vitest';
import { loadContent } from '../../src/content/index.ts';
import { placeFault, predictNote } from '../../src/mechanism/index.ts';
import { heldNote } from '../../src/runs/wavering.ts';

const content = loadContent(new URL('../../flows/', import.meta.url).pathname);

/** Every fault of every instrument that is proved by tapping a touch. */
const proofs = [...content.instruments.values()].flatMap(({ instrument, model }) =>
  model.checks
    .filter(({ tap }) => tap !== undefined)
    .map((check) => ({ instrument, check, fault: `slack@${check.place}` })),
);

describe('the note to hold while a key is tapped', () => {
  it('is wanted on more than one instrument', () => {
    expect(new Set(proofs.map(({ instrument }) => instrument.id)).size).toBeGreaterThan(1);
  });

  it('suffers from the tapping while the fault is there, and not once it is mended', () => {
    for (const { instrument, check, fault } of proofs) {
      const held = heldNote(instrument, fault, check);
      if (held === null) continue;
      const tapped = { ...held, touches: [...held.touches, check.tap!] };
      const slack = placeFault(instrument.fault(fault), 'moderate');
      expect(predictNote(instrument, held, []).degree).toBe('none');
      expect(predictNote(instrument, tapped, []).degree).toBe('none');
      expect(predictNote(instrument, tapped, [slack]).degree).not.toBe('none');
      expect(held.touches).toEqual(expect.arrayContaining([...check.hold!]));
    }
  });

  it('is a low note of the right hand for the arm that holds the G sharp cup of an alto saxophone', () => {
    const proof = proofs.find(
      ({ instrument, fault }) =>
        instrument.id === 'alto-saxophone' && fault === 'slack@link.fsharp-holds-gsharp',
    )!;
    expect(heldNote(proof.instrument, proof.fault, proof.check)?.note).toMatch(/^(F|E|Eb|D|C#|C)4$/);
  });

  it('is none where nothing is tapped', () => {
    const { instrument, fault } = proofs[0]!;
    expect(heldNote(instrument, fault, { hold: [] })).toBeNull();
  });
});
