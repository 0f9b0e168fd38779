/** Spelling a code over the telephone: the alphabet of ICAO Annex 10, volume II, 5.2.1.3 (the international radio alphabet). */
const letters =
  'Alfa Bravo Charlie Delta Echo Foxtrot Golf Hotel India Juliett Kilo Lima Mike November Oscar Papa Quebec Romeo Sierra Tango Uniform Victor Whiskey X-ray Yankee Zulu'.split(
    ' ',
  );

/** A group of letters and figures as it is read out: "k3" is "Kilo 3". */
export function spellOut(group: string): string {
  return [...group].map((sign) => letters[sign.charCodeAt(0) - 97] ?? sign).join(' ');
}
