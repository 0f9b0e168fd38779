/** Notes as a score in MEI, the format of the Music Encoding Initiative (music-encoding.org), a page a note. */
import type { Clef } from '../mechanism/index.ts';
import { CLEFS, spelled } from './clef.ts';

/** MEI's written accidentals (data.ACCIDENTAL.WRITTEN). */
const ACCIDENTALS: Readonly<Record<string, string>> = { '#': 's', '##': 'x', b: 'f', bb: 'ff' };

/**
 * The score of these notes under a clef, one whole note on each page.
 * @throws RangeError when one of them is no note name
 */
export function scoreOf(clef: Clef, notes: readonly string[]): string {
  const { sign, line } = CLEFS[clef];
  const pages = notes.map((note, index) => {
    const { letter, accidental, octave } = spelled(note);
    const accid = accidental === '' ? '' : ` accid="${ACCIDENTALS[accidental]}"`;
    const element = `<note dur="1" pname="${letter.toLowerCase()}" oct="${octave}"${accid}/>`;
    return `<pb/><measure n="${index + 1}" right="invis"><staff n="1"><layer n="1">${element}</layer></staff></measure>`;
  });
  return [
    '<?xml version="1.0" encoding="UTF-8"?><mei xmlns="http://www.music-encoding.org/ns/mei" meiversion="5.1">',
    '<meiHead><fileDesc><titleStmt><title/></titleStmt><pubStmt/></fileDesc></meiHead>',
    '<music><body><mdiv><score><scoreDef><staffGrp>',
    `<staffDef n="1" lines="5" clef.shape="${sign}" clef.line="${line}"/>`,
    `</staffGrp></scoreDef><section>${pages.join('')}</section></score></mdiv></body></music></mei>`,
  ].join('');
}
