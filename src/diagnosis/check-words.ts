/** The words that the sentences of checks.yaml are filled with. */
import { type Fingering, type Instrument, positionName, positionsOf } from '../mechanism/index.ts';
import type { LinkTrial } from './placing.ts';
import { listNames, sayNote } from './wording.ts';

/** Words by their names in the sentences; one that the part does not have is undefined. */
export type Words = Readonly<Record<string, string | undefined>>;

/** A fingering's note, with the name of the fingering where it is not the usual one. */
export function noteWords(instrument: Instrument, fingering: Fingering): string {
  const said = sayNote(instrument, fingering.note);
  return fingering.name === undefined ? said : `${said}, ${fingering.name}`;
}

/** A sentence: which touches to hold. */
export function handsWords(instrument: Instrument, touches: readonly string[]): string {
  if (touches.length === 0) return 'Keep every finger up.';
  return `Hold down ${listNames(touches.map((touch) => instrument.part(touch).name))}, and nothing else.`;
}

/** A sentence: how to finger a note; on brass the valves, and where the slide stands. */
export function fingersWords(instrument: Instrument, { touches, position }: Fingering): string {
  const { tube } = instrument;
  if (tube === null) return handsWords(instrument, touches);
  const slide = positionsOf(tube) > 1 ? [`Hold the slide in ${positionName(position ?? 1)} position.`] : [];
  const valves = touches.length === 0 ? 'Press no valve.' : handsWords(instrument, touches);
  return [...slide, ...(tube.valves.length > 0 ? [valves] : [])].join(' ');
}

/** The words of a check of one part: its name, which touches to hold, how to open it. */
export function partWords(instrument: Instrument, place: string, touches: readonly string[]): Words {
  const names = touches.map((touch) => instrument.part(touch).name);
  return {
    place: instrument.part(place).name,
    hands: handsWords(instrument, touches),
    work: touches.length === 0 ? 'Keep every finger up' : `Press ${listNames(names)}`,
  };
}

/** The words of a trial of a link: its ends, its cups, how to drive and to free them. */
export function linkWords(instrument: Instrument, link: string, trial: LinkTrial): Words {
  const name = (part: string) => instrument.part(part).name;
  const drive = `ress down ${listNames(trial.drive.map(name))}`;
  const free = listNames(trial.free.map(name));
  return {
    place: name(link),
    driver: name(trial.driver),
    target: name(trial.targetVent ?? trial.target),
    own: trial.own === null ? undefined : name(trial.own),
    opener: trial.free.length === 0 ? undefined : trial.free.map(name).join(' and the '),
    drive: `P${drive}`,
    letGo: trial.free.length === 0 ? `P${drive}` : `Keep ${free} pressed. Then p${drive}`,
  };
}
