import { Note } from 'tonal';
import { describe, expect, it } from 'vitest';
import { planOf } from '../../src/mechanism/fingering-plan.ts';
import {
  type Fingering,
  frequency,
  isSameNote,
  midi,
  noteName,
  predictNote,
  type Severity,
  soundingMidi,
  ventStates,
} from '../../src/mechanism/index.ts';
import charts from './published/clarinet-charts.json' with { type: 'json' };
import published from './published/clarinet-links.json' with { type: 'json' };
import { clarinet, placed } from './support/clarinet.ts';

// Sources by id, and where the charts disagree, in published/clarinet-charts.json.
describe('the fingerings of the B flat clarinet against published charts', () => {
  it('knows the same holes, in the same order, resting and sounding as the charts imply', () => {
    expect(clarinet.vents.map(({ id, rest, note }) => ({ id, rest, note }))).toEqual(charts.vents);
    // The repository of the Klosé transcription counts 17 keys, 6 rings and a plain hole; the holes are 17 and 7.
    expect(clarinet.vents.filter(({ cover }) => cover === 'finger')).toHaveLength(7);
    expect(clarinet.vents.filter(({ cover }) => cover !== 'finger')).toHaveLength(17);
    expect(clarinet.touches).toHaveLength(17 + 6 + 1);
  });

  it('has every charted fingering and no other', () => {
    expect(clarinet.fingerings.map(({ id }) => id).sort()).toEqual(
      charts.fingerings.map(({ id }) => id).sort(),
    );
  });

  it('shows in two charts all standard fingerings but the highest', () => {
    const single = charts.fingerings
      .filter(({ id, charts: shown }) => clarinet.fingering(id).kind === 'standard' && shown.length < 2)
      .map(({ id }) => id);
    expect(single).toEqual(['fg.Eb6', 'fg.Fs6']);
  });

  it.each(charts.fingerings)('presses for $note ($id) what the charts press', ({ id, note, touches }) => {
    const fingering = clarinet.fingering(id);
    expect(new Set(fingering.touches)).toEqual(new Set(touches));
    expect(isSameNote(fingering.note, note)).toBe(true);
  });

  it.each(charts.fingerings)(
    'opens for $note ($id) exactly the holes that the charts open',
    ({ id, open }) => {
      const states = ventStates(clarinet, clarinet.fingering(id).touches, []);
      expect(clarinet.vents.filter((_, index) => states[index]!.open).map((vent) => vent.id)).toEqual(open);
    },
  );

  it('ends the column of every note at the hole that the charts leave open first, up to the altissimo', () => {
    for (const { id, firstOpen } of charts.fingerings) {
      const fingering = clarinet.fingering(id);
      if (fingering.register === 3) continue;
      expect(clarinet.vents[planOf(clarinet, fingering).first]?.id ?? null, id).toBe(firstOpen);
    }
  });

  it('fingers every clarion note as the chalumeau note a twelfth below, with the register key', () => {
    // Textbook acoustics of the closed cylinder; the charts agree in every row.
    for (const { note, register, touches } of clarinet.fingerings.filter((one) => one.register === 2)) {
      const low = clarinet.fingerings.find(
        (one) =>
          one.register === 1 &&
          one.touches.length === touches.length - 1 &&
          one.touches.every((touch) => touches.includes(touch)),
      );
      expect(touches, note).toContain('touch.register');
      expect(midi(note) - midi(low!.note), note).toBe(19);
      expect(register).toBe(2);
    }
  });

  it('builds the altissimo on the fifth harmonic of the hole under the open first finger', () => {
    // 28 semitones: two octaves and a major third. From F sharp 6 on the charts’ fingerings are forks of other harmonics.
    const altissimo = clarinet.fingerings.filter(
      ({ register, note }) => register === 3 && midi(note) < midi('F#6'),
    );
    expect(altissimo.length).toBeGreaterThan(5);
    const off = altissimo
      .filter(({ kind }) => kind === 'standard')
      .map((fingering) => midi(fingering.note) - planOf(clarinet, fingering).base);
    expect(new Set(off)).toEqual(new Set([28]));
  });
});

describe('the sounding pitch of the B flat clarinet', () => {
  it('is a whole tone below the written one, at the frequency that a music-theory library gives', () => {
    // tonal 6.4.3, a general-purpose music-theory library; A = 440 Hz (ISO 16:1975).
    for (const { note } of clarinet.fingerings) {
      const sounding = soundingMidi(midi(note), clarinet.transposition.semitones);
      const name = Note.transpose(note, '-2M');
      expect(sounding, note).toBe(Note.midi(name));
      expect(frequency(sounding), note).toBeCloseTo(Note.freq(name)!, 6);
    }
  });

  it('reaches from D3 to F6', () => {
    const sounding = (note: string) => noteName(soundingMidi(midi(note), clarinet.transposition.semitones));
    expect([sounding(clarinet.range.lowest), sounding(clarinet.range.highest)]).toEqual(['D3', 'F6']);
  });
});

/** Where we differ from the lists, by the fault and the fingerings, and why. */
const DIFFERENCES: Readonly<
  Record<string, { readonly fingerings: readonly string[]; readonly because: string }>
> = {
  'tight@link.rh1-ring': {
    fingerings: ['fg.Eb6-fork'],
    because:
      'the list spoils it without saying by which hole; nothing above the hole that ends its column leaks',
  },
  'tight@link.lh-e-lever': {
    fingerings: ['fg.Gs3', 'fg.A3', 'fg.Eb5', 'fg.E5'],
    because:
      'the E/B key that the lever holds down takes the F/C cup along, so the notes above that are dull too',
  },
  'tight@link.lh-fsharp-lever': {
    fingerings: ['fg.D6-bare', 'fg.Eb6-fork'],
    because: 'altissimo notes whose column ends above the leaking cup',
  },
  'held-open@cup.sliver-b': {
    fingerings: ['fg.Eb6-fork', 'fg.Bb3', 'fg.F5'],
    because:
      'the list lets a ring open the cup for some fingerings only; here something holds it open for all',
  },
  'held-open@cup.side4': {
    fingerings: ['fg.Eb4-sliver', 'fg.Bb5-sliver'],
    because: 'a hole that gives the very note that is fingered cannot spoil it',
  },
  'leaks@cup.ab-eb': {
    fingerings: ['fg.D6-bare'],
    because: 'an altissimo note whose column ends above the leaking cup',
  },
};

describe('the notes that a fault of the clarinet takes against published statements', () => {
  // Sources by id in published/clarinet-links.json.
  it.each(published.links)('$faults', ({ faults, spoils, clear }) => {
    const suffers = (severity: Severity) => (id: string) => {
      const effect = predictNote(
        clarinet,
        clarinet.fingering(id),
        faults.map((fault) => placed(fault, severity)),
      );
      return effect.degree !== 'none' || effect.sounded !== null;
    };
    const missed = spoils.filter((id) => !suffers('gross')(id));
    const added = clear.filter((id) => suffers('gross')(id) || suffers('moderate')(id));
    expect([...missed, ...added]).toEqual(DIFFERENCES[faults[0]!]?.fingerings ?? []);
  });

  it('has a list for every link', () => {
    const listed = new Set(published.links.flatMap(({ faults }) => faults));
    const all = clarinet.faults
      .filter(({ kind }) => kind === 'slack' || kind === 'tight')
      .map(({ id }) => id);
    expect(all.filter((id) => !listed.has(id))).toEqual([]);
  });

  it('spoils with the bridge out no standard note, and only forks that need it', () => {
    // M. Vinquist, Klarinet list archive, posting 000587 (2002): the fork through the bridge.
    const spoiled = (fingering: Fingering) =>
      predictNote(clarinet, fingering, [placed('slack@link.bridge', 'gross')]).degree !== 'none';
    expect(clarinet.fingerings.filter(spoiled).map(({ id }) => id)).toEqual([
      'fg.Eb4-1and1',
      'fg.Eb4-1and2',
      'fg.Bb5-1and1',
      'fg.Bb5-1and2',
    ]);
  });

  it('leaves the chalumeau whole and drops the clarion a twelfth where the register vent is clogged', () => {
    // El brujo musical, clarinet care articles: the register does not change although the key opens.
    for (const fingering of clarinet.fingerings.filter(({ register }) => register < 3)) {
      const { sounded, degree } = predictNote(clarinet, fingering, [placed('blocked@cup.register', 'gross')]);
      if (fingering.register === 2) expect(sounded, fingering.id).toBe(midi(fingering.note) - 19);
      else if (fingering.id !== 'fg.Bb4') expect([sounded, degree], fingering.id).toEqual([null, 'none']);
    }
  });
});
