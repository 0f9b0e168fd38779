/** Reads a QR picture back, from its SVG, by the rules of ISO/IEC 18004 and with nothing of what drew it. */

/** Blocks and data codewords a block at level M, versions 1 to 6 (table 9 of the standard). */
const blocksAtM: readonly (readonly [blocks: number, codewords: number])[] = [
  [1, 16],
  [1, 28],
  [1, 44],
  [2, 32],
  [2, 43],
  [4, 27],
];

const masks: readonly ((row: number, column: number) => boolean)[] = [
  (row, column) => (row + column) % 2 === 0,
  (row) => row % 2 === 0,
  (_, column) => column % 3 === 0,
  (row, column) => (row + column) % 3 === 0,
  (row, column) => (Math.floor(row / 2) + Math.floor(column / 3)) % 2 === 0,
  (row, column) => ((row * column) % 2) + ((row * column) % 3) === 0,
  (row, column) => (((row * column) % 2) + ((row * column) % 3)) % 2 === 0,
  (row, column) => (((row + column) % 2) + ((row * column) % 3)) % 2 === 0,
];

export type ReadQr = {
  readonly text: string;
  /** Width of the empty margin in modules. */
  readonly quietZone: number;
  readonly level: string;
};

/** The text of a QR picture. Throws where the picture breaks a rule that a camera relies on. */
export function readQr(svg: string): ReadQr {
  const [modules, quietZone] = readModules(svg);
  const size = modules.length;
  const version = (size - 17) / 4;
  if (!Number.isInteger(version) || version < 1 || version > 6)
    throw new Error(`no QR picture is ${size} wide`);
  for (const [top, left] of [
    [0, 0],
    [0, size - 7],
    [size - 7, 0],
  ] as const)
    checkFinder(modules, top, left);
  const format = readFormat(modules);
  const level = ['M', 'L', 'H', 'Q'][format >> 13] ?? '';
  if (level !== 'M') throw new Error(`level ${level} where M is expected`);
  const codewords = readCodewords(modules, version, masks[(format >> 10) & 7]!);
  const [blocks, length] = blocksAtM[version - 1]!;
  const data = Array.from({ length: blocks * length }, (_, index) => {
    const block = Math.floor(index / length);
    return codewords[(index % length) * blocks + block]!;
  });
  return { text: readBytes(data), quietZone, level };
}

function readModules(svg: string): [modules: boolean[][], quietZone: number] {
  const whole = Number(/viewBox="0 0 (\d+) \1"/.exec(svg)?.[1]);
  const all = Array.from({ length: whole }, () => Array<boolean>(whole).fill(false));
  for (const [, x, y, run] of svg.matchAll(/M(\d+) (\d+)h(\d+)v1h-\3z/g))
    for (let at = 0; at < Number(run); at += 1) all[Number(y)]![Number(x) + at] = true;
  const quietZone = all.findIndex((row) => row.includes(true));
  return [
    all.slice(quietZone, whole - quietZone).map((row) => row.slice(quietZone, whole - quietZone)),
    quietZone,
  ];
}

function checkFinder(modules: boolean[][], top: number, left: number): void {
  for (let row = 0; row < 7; row += 1) {
    for (let column = 0; column < 7; column += 1) {
      const ring = Math.max(Math.abs(row - 3), Math.abs(column - 3));
      if (modules[top + row]![left + column] !== (ring !== 2)) throw new Error('a finder pattern is broken');
    }
  }
}

/** The 15 bits beside the upper left finder, without the mask of the standard (0x5412). */
function readFormat(modules: boolean[][]): number {
  const places = [0, 1, 2, 3, 4, 5, 7, 8].map((column) => [8, column] as const);
  const rest = [7, 5, 4, 3, 2, 1, 0].map((row) => [row, 8] as const);
  return (
    [...places, ...rest].reduce((bits, [row, column]) => (bits << 1) | Number(modules[row]![column]), 0) ^
    0x5412
  );
}

function readCodewords(modules: boolean[][], version: number, mask: (typeof masks)[number]): number[] {
  const size = modules.length;
  const isFunction = (row: number, column: number) =>
    (row < 9 && column < 9) ||
    (row < 9 && column >= size - 8) ||
    (row >= size - 8 && column < 9) ||
    row === 6 ||
    column === 6 ||
    (version > 1 && Math.max(Math.abs(row - (size - 7)), Math.abs(column - (size - 7))) <= 2);
  const bits: number[] = [];
  let isUpward = true;
  for (let right = size - 1; right > 0; right -= 2) {
    if (right === 6) right = 5;
    for (let step = 0; step < size; step += 1) {
      const row = isUpward ? size - 1 - step : step;
      for (const column of [right, right - 1]) {
        if (!isFunction(row, column)) bits.push(Number(modules[row]![column] !== mask(row, column)));
      }
    }
    isUpward = !isUpward;
  }
  return Array.from({ length: Math.floor(bits.length / 8) }, (_, index) =>
    Number.parseInt(bits.slice(index * 8, index * 8 + 8).join(''), 2),
  );
}

/** One segment of bytes: mode 0100, a length of eight bits, the bytes. */
function readBytes(data: readonly number[]): string {
  const bits = data.map((codeword) => codeword.toString(2).padStart(8, '0')).join('');
  if (bits.slice(0, 4) !== '0100') throw new Error(`mode ${bits.slice(0, 4)} where bytes are expected`);
  const length = Number.parseInt(bits.slice(4, 12), 2);
  const bytes = Array.from({ length }, (_, at) => Number.parseInt(bits.slice(12 + at * 8, 20 + at * 8), 2));
  return new TextDecoder('utf-8', { fatal: true }).decode(Uint8Array.from(bytes));
}
