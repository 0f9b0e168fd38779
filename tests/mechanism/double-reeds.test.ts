import { describe, expect, it } from 'vitest';
import { loadContent } from '../../src/content/index.ts';
import {
  columnOf,
  type Fingering,
  type Instrument,
  midi,
  type PlacedFault,
  predictNote,
  severitiesOf,
} from '../../src/mechanism/index.ts';
import published from './published/double-reeds.json' with { type: 'json' };

const { instruments } = loadContent(new URL('../../flows', import.meta.url).pathname);
const instrumentOf = (id: string) => instruments.get(id)!.instrument;

/** A fingering by its id, or the standard one of a note. */
function play(instrument: Instrument, name: string): Fingering {
  const standard = instrument.fingerings.find(({ note, kind }) => note === name && kind === 'standard');
  return standard ?? instrument.fingering(name);
}

/** The fault at its grossest, or at a middling size where it has one. */
function placed(instrument: Instrument, id: string, size: 'gross' | 'moderate'): PlacedFault {
  const fault = instrument.fault(id);
  return { fault, severity: severitiesOf(fault).includes(size) ? size : 'gross' };
}

function suffers(instrument: Instrument, name: string, fault: PlacedFault): boolean {
  const { degree, sounded } = predictNote(instrument, play(instrument, name), [fault]);
  return degree !== 'none' || sounded !== null;
}

// Sources by id in published/double-reeds.json, named beside each row.
describe('oboe and bassoon against what is published', () => {
  it.each(published.fingerings)(
    'press for $id of the $instrument what $source says',
    ({ instrument, id, touches }) => {
      const pressed = instrumentOf(instrument).fingering(id).touches;
      expect([...pressed].sort()).toEqual(touches.map((touch) => `touch.${touch}`).sort());
    },
  );

  it.each(published.registerKeys)(
    'open on the $instrument from $from to $to exactly the register vents that $source names',
    ({ instrument: id, from, to, opens }) => {
      const instrument = instrumentOf(id);
      const notes = instrument.fingerings.filter(
        ({ note, kind, register }) =>
          kind === 'standard' && register !== 3 && midi(note) >= midi(from) && midi(note) <= midi(to),
      );
      expect(notes.length).toBeGreaterThan(2);
      for (const { touches } of notes) expect(columnOf(instrument, touches).registerVents).toEqual(opens);
    },
  );

  it('shuts the F cup with the F sharp key alone, as a lesson on low F sharp says', () => {
    // lowecc-fsharp
    const { closed } = columnOf(instrumentOf('bassoon'), play(instrumentOf('bassoon'), 'F#2').touches);
    expect(closed).toContain('cup.f');
  });

  it.each(published.goingDown)(
    'fail first at $note of the $instrument, going down, with what only it must hold ($source)',
    ({ instrument: id, note, faults }) => {
      const instrument = instrumentOf(id);
      const chain = published.goingDown.filter((row) => row.instrument === id).map((row) => row.note);
      for (const fault of faults) {
        const first = chain.find((name) => suffers(instrument, name, placed(instrument, fault, 'gross')));
        expect(first, fault).toBe(note);
      }
    },
  );

  it.each(published.ruled)(
    'suffer on the $instrument from $fault where $source says, and not elsewhere',
    ({ instrument: id, fault, fail, good }) => {
      const instrument = instrumentOf(id);
      const spared = fail.filter((name) => !suffers(instrument, name, placed(instrument, fault, 'gross')));
      const hurt = good.filter((name) => suffers(instrument, name, placed(instrument, fault, 'moderate')));
      expect({ spared, hurt }).toEqual({ spared: [], hurt: [] });
    },
  );

  it('leave every adjustment to the bench, and name no screw that a director may turn', () => {
    for (const id of ['oboe', 'bassoon'])
      expect(instrumentOf(id).links.filter(({ work }) => work !== 'bench')).toEqual([]);
  });
});

describe('the rules that double reeds brought', () => {
  const bassoon = instrumentOf('bassoon');

  it('a half hole can be left uncovered or get clogged, and has neither pad nor spring', () => {
    const kinds = bassoon.faults.filter(({ place }) => place === 'hole.half').map(({ kind }) => kind);
    expect(kinds.sort()).toEqual(['blocked', 'uncovered']);
  });

  it('a lock can be left on, and then works its key as if somebody held it', () => {
    const fault = placed(bassoon, 'left-on@key.lock', 'gross');
    for (const { id, touches } of bassoon.fingerings.filter(({ register }) => register !== 3)) {
      const locked = { ...bassoon.fingering(id), touches: [...new Set([...touches, 'touch.lock'])] };
      const held = predictNote(bassoon, locked, []);
      const left = predictNote(bassoon, bassoon.fingering(id), [fault]);
      // Left on, it gives the lower octave where the whisper vent alone should open.
      const vents = columnOf(bassoon, touches).registerVents;
      expect(left.sounded !== null, id).toBe(vents.length === 1 && vents[0] === 'cup.whisper');
      expect(held.degree, id).toBe('none');
    }
  });

  it('a loose joint below the end of a forked note does it no harm', () => {
    const loose = placed(bassoon, 'loose@joint.bell', 'gross');
    expect(suffers(bassoon, 'Eb3', loose)).toBe(false);
    expect(suffers(bassoon, 'Eb3', placed(bassoon, 'loose@joint.bocal', 'gross'))).toBe(true);
  });
});
