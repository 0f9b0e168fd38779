/** A QR picture (ISO/IEC 18004) of a text, as SVG. */
import { encode } from 'uqr';

/** Empty modules round the picture that the standard asks for, so that a camera finds it. */
const quietZone = 4;

/**
 * Draws a text as a QR picture with 15 % error correction (level M). Always black on white, by day and by night, because
 * many cameras do not read the inverse; colours are attributes, which the content security policy lets through.
 *
 * @param text at most some hundred characters
 * @param title what the picture is, for those who do not see it
 */
export function drawQr(text: string, title: string): string {
  const { data, size } = encode(text, { ecc: 'M', border: quietZone });
  const runs = data.flatMap((row, y) =>
    [
      ...row
        .map((isDark) => (isDark ? '1' : '0'))
        .join('')
        .matchAll(/1+/g),
    ].map(({ index, 0: run }) => `M${index} ${y}h${run.length}v1h-${run.length}z`),
  );
  return `<svg class="qr" viewBox="0 0 ${size} ${size}" role="img" aria-labelledby="qr-title" shape-rendering="crispEdges"><title id="qr-title">${title}</title><rect width="${size}" height="${size}" fill="#fff"/><path fill="#000" d="${runs.join('')}"/></svg>`;
}
