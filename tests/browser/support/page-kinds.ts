/** Every kind of page that there is, with the address of one of each: what all looks at pages go through. */
import type { BrowserBench } from './bench.ts';
import { makeReadyRun, type ReadyOptions } from './ready-run.ts';

const backedOutScrew = 'slack@link.fsharp-holds-gsharp';
const turning = 'procedure.turn-screw';

/** Pages that stand at an address of their own. */
const fixed = {
  start: '/',
  'start with a family open': '/?family=saxophone',
  'start with errors': '/runs?code=abcd',
  'example run': '/r/example',
  'paper version, for whom': '/paper',
  'paper version, which complaint': '/paper?instrument=alto-saxophone&person=helper&tools=paper',
  'paper version': '/paper/sheet?instrument=alto-saxophone&person=director&tools=screwdriver&failing=fg.Gs4',
  'page not found': '/nothing-here',
  'list of problems': '/problems',
  'one problem': '/problems/stale-step',
  'API description': '/api',
  'list of instruments': '/instruments',
  'one instrument': '/instruments/alto-saxophone',
} as const;

/** Where there are valves and a slide at once, and where holes are covered by fingers: what pages of saxophones do not show. */
const trombone = { instrument: 'trombone-f-attachment', fault: 'spring-broken@valve.trigger' } as const;
const clarinet = { instrument: 'bb-clarinet', fault: 'uncovered@hole.rh3' } as const;

type RunToPage = ReadyOptions & { readonly fault?: string };

/** Runs by how they are brought to a page; with a backed-out screw on a saxophone where no other fault is named. */
const runs = {
  question: { until: 'owner' },
  'complaint to confirm': { until: 'understood', complaint: 'the palm keys leak and low C is silent' },
  'complaint understood in part': {
    until: 'understood',
    complaint: 'low C is silent, the gizmo rattles since Tuesday and it frobnicates',
  },
  'complaint not understood': {
    until: 'owner',
    complaint: 'it frobnicates, and my uncle says it is the gizmo',
  },
  'play test, nothing played': { until: 'play-test' },
  'play test, played': {
    until: 'play-test',
    // Enough for both groups of notes, and never so much that the play test is done.
    playNote: (fingering, index) =>
      index > 16 ? null : { type: 'note', fingering, answered: index % 5 === 1 ? 'wrong' : 'speaks' },
  },
  'check with a picture': { until: 'confirm/tap@link.fsharp-holds-gsharp' },
  'what comes next': { until: 'before-treat' },
  'screw to turn': { until: `${turning}.turn-quarter` },
  'test after a turn': { until: `${turning}.test` },
  'screw to turn back': { until: `${turning}.back-off`, choices: { [`${turning}.test`]: 'worse' } },
  'test of the opposite': { until: `${turning}.too-far`, choices: { [`${turning}.test`]: 'gone' } },
  'bench outcome': { until: 'put-back-bench' },
  'play test, trombone': { ...trombone, until: 'play-test' },
  'check with a picture, trombone': { ...trombone, until: 'confirm/work-lever@valve.trigger' },
  'bench outcome, trombone': { ...trombone, until: 'bench' },
  'play test, clarinet': { ...clarinet, until: 'play-test' },
  'check with a picture, clarinet': { ...clarinet, until: 'confirm/ring-print@hole.rh3' },
} as const satisfies Record<string, RunToPage>;

/** Pages that hang on one of these runs. */
const hanging = {
  'change of an answer': ['play test, played', '/change/3'],
  'change of a note': ['play test, played', '/change/12'],
  'help with a step': ['screw to turn', '/help'],
  'hand over': ['screw to turn', '/hand-over'],
  why: ['bench outcome', '/why'],
  'why, trombone': ['bench outcome, trombone', '/why'],
  'why, clarinet': ['check with a picture, clarinet', '/why'],
  ticket: ['bench outcome', '/ticket'],
  card: ['bench outcome', '/card'],
} as const;

export type PageKind = keyof typeof fixed | keyof typeof runs | keyof typeof hanging;

export const pageKinds = [
  ...Object.keys(fixed),
  ...Object.keys(runs),
  ...Object.keys(hanging),
] as readonly PageKind[];

/** Makes the runs, and gives the address of a page of each kind. */
export async function openPageKinds({ server, patient }: BrowserBench): Promise<Map<PageKind, string>> {
  const addresses = new Map<PageKind, string>();
  for (const [kind, path] of Object.entries(fixed))
    addresses.set(kind as PageKind, `${server.address}${path}`);
  for (const [kind, { fault = backedOutScrew, ...options }] of Object.entries<RunToPage>(runs)) {
    const subject = patient(fault, 'director', options.instrument);
    const code = await makeReadyRun(server.address, subject, options);
    addresses.set(kind as PageKind, `${server.address}/r/${code}`);
  }
  for (const [kind, [on, path]] of Object.entries(hanging))
    addresses.set(kind as PageKind, `${addresses.get(on)}${path}`);
  return addresses;
}
