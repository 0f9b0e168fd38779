/**
 * `npm run screenshots`: takes a picture of every kind of page, at every width, by day and by night, into
 * tests/browser/output (to be looked at; not kept), and the three pictures of the README (kept).
 */
import { mkdir, stat } from 'node:fs/promises';
import { openBrowserBench } from './support/bench.ts';
import { openPageKinds } from './support/page-kinds.ts';
import { makeReadyRun } from './support/ready-run.ts';

const output = new URL('./output/', import.meta.url).pathname;
const kept = new URL('./pictures/', import.meta.url).pathname;
const widths = [360, 768, 1280] as const;
const schemes = ['light', 'dark'] as const;
/** What a picture in the README may weigh; bytes. */
const heaviest = 100_000;

const bench = await openBrowserBench();
const { address } = bench.server;
await mkdir(output, { recursive: true });

/** The pages of the README: their addresses, and what of them is brought to the top of the screen. */
async function listReadmePages(): Promise<{ name: string; path: string; from: string }[]> {
  const patient = bench.patient('slack@link.fsharp-holds-gsharp');
  const complaint = 'invented: the low notes do not come';
  const playTest = await makeReadyRun(address, patient, {
    until: 'play-test',
    complaint,
    playNote: (fingering, index) => (index < 2 ? patient.playNote(fingering) : null),
  });
  const turn = await makeReadyRun(address, patient, {
    until: 'procedure.turn-screw.turn-quarter',
    complaint,
  });
  // The last page of the example run is how a run ends that mends the instrument.
  let outcome = 'example';
  for (let next: string | null = outcome; next !== null; ) {
    outcome = next;
    const reply = await fetch(`${address}/api/runs/${outcome}`);
    next = ((await reply.json()) as { example: { next: string | null } }).example.next;
  }
  return [
    { name: 'play-test', path: `/r/${playTest}`, from: '.note-group' },
    { name: 'quarter-turn', path: `/r/${turn}`, from: 'h1' },
    { name: 'outcome', path: `/r/${outcome}`, from: 'h1' },
  ];
}

async function takeReadmePictures(): Promise<void> {
  const page = await bench.phone({ deviceScaleFactor: 1 });
  for (const { name, path, from } of await listReadmePages()) {
    await page.goto(`${address}${path}`, { waitUntil: 'networkidle' });
    await page
      .locator(from)
      .first()
      .evaluate((element) => element.scrollIntoView({ block: 'start' }));
    const file = `${kept}${name}.png`;
    await page.screenshot({ path: file });
    const { size } = await stat(file);
    if (size > heaviest)
      throw new Error(`${file} weighs ${size} bytes; the README takes ${heaviest} at most.`);
    console.log(`took ${name}.png, ${Math.round(size / 1000)} kB`);
  }
}

async function takeAllPages(): Promise<void> {
  const addresses = await openPageKinds(bench);
  for (const colorScheme of schemes) {
    for (const width of widths) {
      const page = await bench.phone({ colorScheme, viewport: { width, height: 740 } });
      for (const [kind, at] of addresses) {
        await page.goto(at, { waitUntil: 'networkidle' });
        const name = `${kind.replaceAll(/\W+/g, '-')}.${width}.${colorScheme}.png`;
        await page.screenshot({ path: `${output}${name}`, fullPage: true });
      }
      await page.context().close();
      console.log(`took ${addresses.size} pages, ${width} wide, ${colorScheme}`);
    }
  }
}

try {
  await takeReadmePictures();
  await takeAllPages();
} finally {
  await bench.dispose();
}
