import type { Instrument, Touch } from '../mechanism/index.ts';

const FINGER_NUMBERS: Readonly<Record<string, string>> = { index: '1', middle: '2', ring: '3' };

/** A name without the word for the sort of part, as players say it: "G sharp touch" is pressed as "G sharp". */
export function playersName(name: string): string {
  return name.replace(/ touch$/, '');
}

/** The finger that presses a touch, in words: "left little finger", "left thumb", "left palm". */
export function fingerWords(touch: Touch): string {
  if (touch.part === 'palm') return `${touch.hand} palm`;
  if (touch.part === 'side') return `side of the ${touch.hand} ${touch.finger} finger`;
  return touch.finger === 'thumb' ? `${touch.hand} thumb` : `${touch.hand} ${touch.finger} finger`;
}

/**
 * The number by which players call a touch: 1, 2, 3 for the home touch of the index, middle and ring finger, which is
 * the touch of that finger that the most fingerings use. Null for every other touch.
 */
export function fingerNumber(instrument: Instrument, touch: Touch): string | null {
  const numbers = NUMBERS.get(instrument) ?? numberTouches(instrument);
  NUMBERS.set(instrument, numbers);
  return numbers.get(touch.id) ?? null;
}

/** Counted once for each instrument: a page may ask some hundred times. */
const NUMBERS = new WeakMap<Instrument, ReadonlyMap<string, string>>();

function numberTouches(instrument: Instrument): Map<string, string> {
  const uses = new Map<string, number>();
  for (const id of instrument.fingerings.flatMap((fingering) => fingering.touches)) {
    uses.set(id, (uses.get(id) ?? 0) + 1);
  }
  const homes = new Map<string, Touch>();
  for (const touch of instrument.touches) {
    const finger = `${touch.hand} ${touch.finger}`;
    const home = homes.get(finger);
    if (home === undefined || (uses.get(touch.id) ?? 0) > (uses.get(home.id) ?? 0)) homes.set(finger, touch);
  }
  const numbered = [...homes.values()].filter((touch) => FINGER_NUMBERS[touch.finger] !== undefined);
  return new Map(numbered.map((touch) => [touch.id, FINGER_NUMBERS[touch.finger]!]));
}

/** The touch to press and the finger for it: "right hand 1", "G sharp (left little finger)". */
export function touchWords(instrument: Instrument, touch: Touch): string {
  const number = fingerNumber(instrument, touch);
  return number === null
    ? `${playersName(touch.name)} (${fingerWords(touch)})`
    : `${touch.hand} hand ${number}`;
}

/** Touch ids in the order of the instrument; throws RangeError when one is unknown. */
export function findTouches(instrument: Instrument, ids: readonly string[]): Touch[] {
  const unknown = ids.find((id) => !instrument.touches.some((touch) => touch.id === id));
  if (unknown !== undefined) {
    const known = instrument.touches.map((touch) => touch.id).join(', ');
    throw new RangeError(`${instrument.name} has no touch "${unknown}"; known: ${known}`);
  }
  return instrument.touches.filter((touch) => ids.includes(touch.id));
}

/**
 * Which touches to press, as players say it: "left hand 1 2 3, right hand 1 2 3, low C". Empty list: "no touches, all
 * keys up". Standard finger numbers: common practice, no source. Throws RangeError when a touch is unknown.
 */
export function touchesWords(instrument: Instrument, ids: readonly string[]): string {
  const touches = findTouches(instrument, ids);
  if (touches.length === 0) return 'no touches, all keys up';
  const thumbs = touches.filter((touch) => touch.finger === 'thumb').map((touch) => playersName(touch.name));
  const hands = (['left', 'right'] as const).flatMap((hand) => {
    const ofHand = touches.filter((touch) => touch.hand === hand && touch.finger !== 'thumb');
    const numbers = ofHand
      .map((touch) => fingerNumber(instrument, touch))
      .filter((number) => number !== null);
    const others = ofHand
      .filter((touch) => fingerNumber(instrument, touch) === null)
      .map((touch) => playersName(touch.name));
    return [...(numbers.length > 0 ? [`${hand} hand ${numbers.toSorted().join(' ')}`] : []), ...others];
  });
  return [...thumbs, ...hands].join(', ');
}

/** A note name as it is read out: "C#4" becomes "C sharp 4". */
export function noteWords(note: string): string {
  return note
    .replace(/^([A-G])#/, '$1 sharp ')
    .replace(/^([A-G])b/, '$1 flat ')
    .replace(/^([A-G])(?=\d)/, '$1 ');
}

/** Text with its first letter in upper case. */
export function capitalize(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

const SMALL_NUMBERS = [
  'no',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
];

/**
 * A count of eighths of a turn in words: "nothing", "half an eighth of a turn", "a quarter turn", "three eighths of a
 * turn", "one full turn", "one and a half turns".
 */
export function eighthsWords(eighths: number): string {
  const named = NAMED_TURNS[eighths];
  if (named !== undefined) return named;
  if (eighths > 8 && eighths % 8 === 0) return `${numberWords(eighths / 8)} full turns`;
  const whole = Math.floor(eighths);
  return `${numberWords(whole)}${eighths === whole ? '' : ' and a half'} eighths of a turn`;
}

const NAMED_TURNS: Readonly<Record<number, string>> = {
  0: 'nothing',
  0.5: 'half an eighth of a turn',
  1: 'an eighth of a turn',
  2: 'a quarter turn',
  4: 'half a turn',
  6: 'three quarters of a turn',
  8: 'one full turn',
  12: 'one and a half turns',
};

function numberWords(count: number): string {
  return SMALL_NUMBERS[count] ?? String(count);
}
