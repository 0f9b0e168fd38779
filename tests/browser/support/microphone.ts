/** A browser whose microphone hears a file instead of a room. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { sampleRate } from '../../listening/support/tones.ts';
import { launchBrowser } from './browser.ts';

export type HearingBrowser = { readonly browser: Browser; close(): Promise<void> };

/**
 * Starts a browser that hears this sound again and again, and gives the microphone without asking.
 * @param samples at 48 kHz
 */
export async function launchHearing(samples: Float32Array): Promise<HearingBrowser> {
  const folder = mkdtempSync(join(tmpdir(), 'hearing-'));
  const file = join(folder, 'room.wav');
  writeFileSync(file, writeWave(samples));
  const browser = await launchBrowser([
    '--use-fake-device-for-media-stream',
    '--use-fake-ui-for-media-stream',
    `--use-file-for-fake-audio-capture=${file}`,
  ]);
  return {
    browser,
    async close() {
      await browser.close();
      rmSync(folder, { recursive: true });
    },
  };
}

/** 16 bits, one channel (RIFF WAVE, format 1). */
function writeWave(samples: Float32Array): Buffer {
  const file = Buffer.alloc(44 + 2 * samples.length);
  file.write('RIFF', 0);
  file.writeUInt32LE(36 + 2 * samples.length, 4);
  file.write('WAVEfmt ', 8);
  file.writeUInt32LE(16, 16);
  file.writeUInt16LE(1, 20);
  file.writeUInt16LE(1, 22);
  file.writeUInt32LE(sampleRate, 24);
  file.writeUInt32LE(2 * sampleRate, 28);
  file.writeUInt16LE(2, 32);
  file.writeUInt16LE(16, 34);
  file.write('data', 36);
  file.writeUInt32LE(2 * samples.length, 40);
  samples.forEach((sample, at) => {
    file.writeInt16LE(Math.round(32_767 * Math.max(-1, Math.min(1, sample))), 44 + 2 * at);
  });
  return file;
}
