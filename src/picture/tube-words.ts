/** Fingerings and parts of a brass instrument in words. */
import { type Fingering, type Instrument, type Part, positionName, positionsOf } from '../mechanism/index.ts';
import { capitalize, findTouches, fingerWords, touchesWords } from './words.ts';

type Fingers = Pick<Fingering, 'touches' | 'position'>;

/** The positions of an instrument’s slide; 1 for one without a tube too. */
export function slidePositions({ tube }: Instrument): number {
  return tube === null ? 1 : positionsOf(tube);
}

/** What to press, as a request: "press left hand 1 2 3", "press the first and third valves", "slide in second position". */
export function pressWords(instrument: Instrument, fingers: Fingers): string {
  const { tube } = instrument;
  if (tube === null) return `press ${touchesWords(instrument, fingers.touches)}`;
  const slide = slideWords(instrument, fingers);
  const valves = valvesWords(instrument, fingers.touches);
  if (slide === '') return `press ${valves === '' ? 'no valve' : `the ${valves}`}`;
  return valves === '' ? slide : `${slide}, ${valves} pressed`;
}

/**
 * A fingering in words, as the text alternative of its picture and as plain text on a page: "Left hand 1 2 3, low C", "First and
 * third valves", "Slide in second position". Throws RangeError when it names an unknown touch.
 */
export function fingeringWords(instrument: Instrument, fingers: Fingers): string {
  if (instrument.tube === null) return capitalize(touchesWords(instrument, fingers.touches));
  const slide = slideWords(instrument, fingers);
  const valves = valvesWords(instrument, fingers.touches);
  const said = [slide, valves].filter((words) => words !== '');
  return capitalize(said.length === 0 ? 'no valve' : said.join(', '));
}

function slideWords(instrument: Instrument, { position = 1 }: Fingers): string {
  return slidePositions(instrument) === 1 ? '' : `slide in ${positionName(position)} position`;
}

/** "first valve", "first, second and third valves"; empty for none. */
function valvesWords(instrument: Instrument, touches: readonly string[]): string {
  const { tube } = instrument;
  const names = findTouches(instrument, touches)
    .flatMap(({ id }) => tube?.valvesOf.get(id) ?? [])
    .map((valve) => tube!.valves[valve]!.name.replace(/ valve$/, ''));
  const last = names.at(-1);
  if (last === undefined) return '';
  if (names.length === 1) return `${last} valve`;
  return `${names.slice(0, -1).join(', ')} and ${last} valves`;
}

/** Where a part of a brass instrument is found, in words that follow its name: by its finger, or by which notes pass it. */
export function tubeWhereWords(instrument: Instrument, { id, sort }: Part): string {
  const tube = instrument.tube!;
  const place = tube.places.get(id);
  switch (sort) {
    case 'valve': {
      const touch = instrument.touches.find((one) => tube.valvesOf.get(one.id)?.includes(place!.index));
      return touch === undefined ? 'a valve' : `worked by the ${fingerWords(touch)}`;
    }
    case 'slide': {
      const { down, up } = tube.passages[place!.index]!;
      const names = (valves: readonly number[]) =>
        valves.map((valve) => `the ${tube.valves[valve]!.name}`).join(' and ');
      const while_ = [
        ...(down.length > 0 ? [`${names(down)} ${down.length > 1 ? 'are' : 'is'} down`] : []),
        ...(up.length > 0 ? [`${names(up)} ${up.length > 1 ? 'are' : 'is'} up`] : []),
      ];
      return while_.length === 0
        ? 'every note goes through it'
        : `notes go through it while ${while_.join(' and ')}`;
    }
    case 'water-key':
      return `on the ${tube.slides[tube.waterKeySlides[place!.index]!]!.name}`;
    case 'pair':
      return 'side by side';
    default:
      return 'every note goes through it';
  }
}
