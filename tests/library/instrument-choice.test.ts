import { describe, expect, it } from 'vitest';
import { loadContent } from '../../src/content/index.ts';
import { listFamilies, listInstruments } from '../../src/library/instrument-choice.ts';
import { midi } from '../../src/mechanism/index.ts';

const content = loadContent(new URL('../../flows', import.meta.url).pathname);
const families = listFamilies(content);

describe('the choice of an instrument', () => {
  it('offers every instrument once, families together and in their order', () => {
    const offered = families.flatMap(({ instruments }) => instruments.map(({ id }) => id));
    expect(offered.toSorted()).toEqual([...content.instruments.keys()].toSorted());
    expect(listInstruments(content).map(({ id }) => id)).toEqual(offered);
    const places = families.map(({ id }) => content.families.get(id)!.order);
    expect(places).toEqual(places.toSorted((one, other) => one - other));
  });

  it('puts the highest-sounding of a family first', () => {
    for (const { instruments } of families) {
      const lowest = instruments.map(({ id }) => {
        const { range, transposition } = content.instruments.get(id)!.instrument;
        return midi(range.lowest) + transposition.semitones;
      });
      expect(lowest).toEqual(lowest.toSorted((one, other) => other - one));
    }
  });

  it('says for every family, and for sisters, what to look for', () => {
    for (const { lookFor, instruments } of families) {
      expect(lookFor).not.toBe('');
      const told = instruments.map((one) => one.lookFor).filter((text) => text !== null);
      expect(new Set(told).size).toBe(told.length);
    }
    const saxophones = families.find(({ id }) => id === 'saxophone')!.instruments;
    expect(saxophones.every(({ lookFor }) => lookFor !== null)).toBe(true);
  });

  it('draws each from its own data, the longer the lower it sounds, and hides the drawing from listeners', () => {
    const saxophones = families.find(({ id }) => id === 'saxophone')!.instruments;
    const zoomOf = (id: string) => {
      const { picture } = saxophones.find((one) => one.id === id)!;
      return Number(/viewBox="(-?[\d.]+)/.exec(picture)![1]);
    };
    expect(zoomOf('soprano-saxophone')).toBeLessThan(zoomOf('tenor-saxophone'));
    expect(zoomOf('baritone-saxophone')).toBe(0);
    for (const { picture } of families.flatMap(({ instruments }) => instruments)) {
      expect(picture).toContain('aria-hidden="true"');
      expect(picture).toContain('picture-body');
    }
  });
});
