/** Notes of band instruments from a free sound font (TimGM6mb, in Debian's packages), through the synthesiser fluidsynth. */
import { execFileSync } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { sampleRate } from './tones.ts';

const font = '/usr/share/sounds/sf2/TimGM6mb.sf2';
const synthesiser = '/usr/bin/fluidsynth';

/** Whether notes can be rendered on this machine. */
export const canRender = existsSync(font) && existsSync(synthesiser);

/** Numbers of instruments in General MIDI, from 0. */
export const programs = {
  'alto saxophone': 65,
  'tenor saxophone': 66,
  'baritone saxophone': 67,
  oboe: 68,
  bassoon: 70,
  clarinet: 71,
  flute: 73,
  trumpet: 56,
  trombone: 57,
} as const;

/**
 * Renders one note, held for two and a half seconds, without reverberation and chorus.
 * @param sounding MIDI number of the note that sounds
 * @returns samples of the left channel
 */
export function renderNote(program: keyof typeof programs, sounding: number): Float32Array {
  const folder = mkdtempSync(join(tmpdir(), 'rendered-'));
  try {
    const [score, sound] = [join(folder, 'note.mid'), join(folder, 'note.wav')];
    writeFileSync(score, writeMidi(programs[program], sounding, 2500));
    const quietly = ['-niq', '-R', '0', '-C', '0', '-g', '1', '-r', String(sampleRate)];
    execFileSync(synthesiser, [...quietly, '-F', sound, font, score], { stdio: 'ignore' });
    return readLeft(readFileSync(sound));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** A file of one track and one note (Standard MIDI File 1.0, form 0), a tick a millisecond. */
function writeMidi(program: number, note: number, milliseconds: number): Buffer {
  const length = [0x80 | (milliseconds >> 7), milliseconds & 0x7f];
  const track = [
    ...[0, 0xc0, program],
    ...[0, 0x90, note, 100],
    ...[...length, 0x80, note, 0],
    ...[0x82, 0x2c, 0xff, 0x2f, 0],
  ];
  const header = [0, 0, 0, 6, 0, 0, 0, 1, 500 >> 8, 500 & 0xff];
  const size = Buffer.alloc(4);
  size.writeUInt32BE(track.length);
  return Buffer.concat([
    Buffer.from('MThd'),
    Buffer.from(header),
    Buffer.from('MTrk'),
    size,
    Buffer.from(track),
  ]);
}

/** 16 bits, two channels, as fluidsynth writes it. */
function readLeft(file: Buffer): Float32Array {
  const begin = file.indexOf('data') + 8;
  const count = Math.floor((file.length - begin) / 4);
  return Float32Array.from({ length: count }, (_, at) => file.readInt16LE(begin + 4 * at) / 32_768);
}
