import { mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { afterAll, describe, expect, test } from 'vitest';
import { assembleContent, type Content, loadContent, tellProblem } from '../../src/content/index.ts';
import { treatmentOf } from '../../src/diagnosis/index.ts';
import { listPlaceholders, placeholders } from '../../src/flow/index.ts';
import { alteredFolder, flowsFolder, problemsOf, removeFolders } from './support/altered-folder.ts';

afterAll(removeFolders);

const content = loadContent(flowsFolder);
const instruments = [...content.instruments].map(([id, entry]) => ({ id, ...entry }));

/** A text with its place, and the blanks that a condition has already said to be filled. */
type Said = { readonly where: string; readonly text: string; readonly filled: readonly string[] };

/** Every text under a value, by its keys. */
function textsIn(value: unknown, where: string, filled: readonly string[] = []): Said[] {
  if (typeof value === 'string') return [{ where, text: value, filled }];
  if (value === null || typeof value !== 'object') return [];
  const when = 'when' in value ? [value.when].flat() : [];
  const told = when.flatMap((one) =>
    typeof one === 'object' && one !== null && 'has' in one ? [String(one.has)] : [],
  );
  return Object.entries(value).flatMap(([key, item]) =>
    textsIn(item, `${where} > ${key}`, [...filled, ...told]),
  );
}

/** The procedures that can ever be shown for this instrument. */
function proceduresFor({ instruments: all, flow }: Content, id: string) {
  const { model } = all.get(id)!;
  const used = new Set(model.hypotheses.faults.map((_, fault) => treatmentOf(model, fault)?.procedure));
  return flow.charts.procedures.filter(({ procedure }) => used.has(procedure));
}

describe('what differs by family', () => {
  test.each(instruments.map(({ id, instrument }) => [id, instrument.family] as const))(
    'is filled in wherever a text leaves it open, for the %s',
    (id, family) => {
      const words = content.families.get(family)?.words ?? {};
      const { main, outcomes, cautions } = content.flow.charts;
      const charts = [main.states, outcomes, cautions.cautions, ...proceduresFor(content, id)];
      const unfilled = charts
        .flatMap((chart, index) => textsIn(chart, `${index}`))
        .flatMap(({ where, text, filled }) =>
          listPlaceholders(text)
            .filter(
              (name) =>
                !Object.hasOwn(placeholders, name) && !Object.hasOwn(words, name) && !filled.includes(name),
            )
            .map((name) => `${where}: ${name}`),
        );
      expect(unfilled).toEqual([]);
      const { model } = content.instruments.get(id)!;
      for (const check of model.checks)
        expect([check.title, check.ask, check.why, check.plainly ?? ''].join(' ')).not.toContain('{{');
    },
  );

  test('has a family file for every instrument, with cautions that exist', () => {
    for (const { instrument } of instruments) expect(content.families.has(instrument.family)).toBe(true);
    for (const { cautions } of content.families.values())
      for (const id of cautions) expect(content.cautions.has(id)).toBe(true);
  });

  test('is told where a family is missing, misnamed or names a caution that there is not', () => {
    const gone = alteredFolder('no-family', {});
    rmSync(join(gone, 'families', 'saxophone.yaml'));
    expect(problemsOf(() => loadContent(gone)).map(tellProblem)).toContainEqual(
      expect.stringMatching(
        /alto-saxophone\/mechanism\.yaml:\d+:\d+, instrument > family: is of the family "saxophone", but there is no families\/saxophone\.yaml/,
      ),
    );
    const wrong = alteredFolder('wrong-family', {
      'families/flute.yaml': (text) => text.replace('family: flute', 'family: flutes'),
      'families/oboe.yaml': (text) => text.replace('cautions: [no-screws', 'cautions: [no-such'),
    });
    const told = problemsOf(() => loadContent(wrong)).map(tellProblem);
    expect(told).toContainEqual(
      expect.stringContaining('families/flute.yaml:3:1, family: says it is "flutes"'),
    );
    expect(told).toContainEqual(expect.stringMatching(/^families\/oboe\.yaml:.*names the caution "no-such"/));
  });

  test('leaves no blank open in a check: the check, the place and the blank are named', () => {
    const copy = alteredFolder('open-blank', {
      'families/saxophone.yaml': (text) => text.replace('  registerPads: octave pads\n', ''),
    });
    expect(problemsOf(() => loadContent(copy)).map(tellProblem)).toContainEqual(
      expect.stringMatching(/checks\.yaml: .*uses \{\{registerPads\}\}/),
    );
  });
});

describe('the words of the saxophones', () => {
  const stored = new URL('./editions/before-families.json.gz', import.meta.url);
  const before = assembleContent(JSON.parse(gunzipSync(readFileSync(stored)).toString()));

  test('give the checks that they had before there were families', () => {
    const now = content.instruments.get('alto-saxophone')!.model;
    const then = before.instruments.get('alto-saxophone')!.model;
    for (const id of ['mouthpiece-alone@instrument', 'watch-hands@player.hand', 'good-player@instrument'])
      expect(now.check(id).ask).toBe(then.check(id).ask);
  });
});

describe('what one family adds to a kind of fault', () => {
  const more = `also:
  - kind: loose
    confirm: [{ check: rattle, saw: moves }]
    signs: { rattle: moves }
    treatments:
      - { at: { part: joint, families: [saxophone] }, procedure: drain-water, adjusts: false, tools: [], harmMinutes: 1, source: [estimate] }
    told:
      - { at: { part: joint, families: [saxophone] }, tellTheBench: 'Rattles at the {{place}}.', job: body }
    source: [estimate]
`;
  const check = `kinds:
  - id: rattle
    rule: { by: sign }
    at: [{ part: joint, families: [FAMILY] }]
    group: look
    title: Shake it
    ask: Shake it. Does it rattle?
    why: What is loose rattles.
    answers: [{ id: firm, label: 'No', isQuiet: true }, { id: moves, label: 'Yes' }]
    seconds: 5
    tools: []
    isRemote: true
    sense: listen
    source: [estimate]
`;
  const withMore = (name: string, family: string, faults = more) => {
    const copy = alteredFolder(name, {});
    mkdirSync(join(copy, 'faults'), { recursive: true });
    writeFileSync(join(copy, 'faults', 'zz.yaml'), faults);
    writeFileSync(join(copy, 'checks', 'zz.yaml'), check.replace('FAMILY', family));
    return copy;
  };

  test('goes before what holds for all: another treatment, other words, one more proof', () => {
    const { model } = loadContent(withMore('adds', 'saxophone')).instruments.get('alto-saxophone')!;
    const fault = model.hypotheses.faultNumber.get('loose@joint.neck')!;
    expect(treatmentOf(model, fault)?.procedure).toBe('drain-water');
    expect(model.kindOf(fault)).toMatchObject({ job: 'body', tellTheBench: 'Rattles at the {{place}}.' });
    expect(model.kindOf(fault).confirm.at(0)!.check).toBe('wobble');
    expect(model.kindOf(fault).confirm.at(-1)!.check).toBe('rattle');
    expect(model.hasCheck('rattle@joint.neck')).toBe(true);
  });

  test('does not reach the instruments of another family', () => {
    const { model } = loadContent(withMore('other', 'flute')).instruments.get('alto-saxophone')!;
    expect(model.hasCheck('rattle@joint.neck')).toBe(false);
  });

  test('that does not fit is told by its own file', () => {
    const copy = withMore(
      'misfit',
      'saxophone',
      more.replace('job: body', 'job: magic').replace('drain-water', 'dance'),
    );
    const told = problemsOf(() => loadContent(copy)).map(tellProblem);
    expect(told).toContainEqual(expect.stringMatching(/^faults\/zz\.yaml:8:.*names the job "magic"/));
    expect(told).toContainEqual(
      expect.stringMatching(/^faults\/zz\.yaml:6:.*there is no procedures\/dance\.yaml/),
    );
  });
});
