import { describe, expect, test } from 'vitest';
import { checkLayout, findLayoutProblems, Layout, LayoutError } from '../../src/picture/index.ts';
import { alto, copyLayout, layout } from './support/alto.ts';

const problemsOf = (changed: Layout) =>
  findLayoutProblems(alto, changed).map(({ path, message }) => `${path.join(' > ')}: ${message}`);

describe('the layout of the alto saxophone', () => {
  test('places every part of the mechanism, in its order, within reach of what it joins', () => {
    expect(problemsOf(layout)).toEqual([]);
  });

  test('places the bore between the mouthpiece and the rim, wider at its end than at its start', () => {
    const stations = layout.body.flatMap((piece) => piece.stations);
    expect(stations.at(-1)![2]).toBeGreaterThan(3 * stations[0]![2]);
  });
});

describe('a layout that does not fit', () => {
  test('is told which part has no place', () => {
    const changed = copyLayout();
    delete changed.vents['cup.gsharp'];
    expect(problemsOf(changed).join()).toContain('vents: "cup.gsharp" has no place; add a line');
  });

  test('is told which part the mechanism does not know, and which it knows', () => {
    const changed = copyLayout();
    changed.touches['touch.lh9'] = changed.touches['touch.lh1']!;
    const problems = problemsOf(changed).join();
    expect(problems).toContain('touches > touch.lh9: the mechanism has no "touch.lh9"');
    expect(problems).toContain('touch.low-bb');
  });

  test('is told when a cup lies before the one that the air meets first', () => {
    const changed = copyLayout();
    changed.vents['cup.f']!.at = [136, 420];
    expect(problemsOf(changed)).toEqual([
      expect.stringMatching(/^vents > cup\.f: must lie further from the mouthpiece than "cup\.fsharp"/),
    ]);
  });

  test('is told when a screw lies apart from the metal that it joins', () => {
    const changed = copyLayout();
    changed.links['link.fsharp-holds-gsharp']!.at = [300, 398];
    const problems = problemsOf(changed);
    expect(problems.join()).toMatch(
      /links > link\.fsharp-holds-gsharp: lies more than 12 from "bar\.fsharp"/,
    );
    expect(problems.join()).toMatch(/from "cup\.gsharp"/);
  });

  test('is told when a part lies off the paper', () => {
    const changed = copyLayout();
    changed.touches['touch.palm-d']!.at = [-5, 212];
    expect(problemsOf(changed)).toEqual([expect.stringContaining('touches > touch.palm-d: lies outside')]);
  });

  test('is told when two touches of a hand cover each other in the picture of the fingers', () => {
    const changed = copyLayout();
    changed.touches['touch.bis']!.finger.at = changed.touches['touch.lh2']!.finger.at;
    expect(problemsOf(changed).join()).toMatch(
      /touch\.bis > finger: covers "touch\.lh2" in the picture of the left hand/,
    );
  });

  test('is refused with every problem in one error', () => {
    const changed = copyLayout();
    delete changed.vents['cup.gsharp'];
    delete changed.joints['joint.neck'];
    expect(() => checkLayout(alto, changed)).toThrow(LayoutError);
    expect(() => checkLayout(alto, changed)).toThrow(/cup\.gsharp[\s\S]*joint\.neck/);
  });

  test('of another instrument is refused at once', () => {
    expect(problemsOf({ ...copyLayout(), instrument: 'tenor-saxophone' })).toEqual([
      expect.stringContaining('write "alto-saxophone"'),
    ]);
  });

  test('with a misspelt key is refused by the schema', () => {
    const { success, error } = Layout.safeParse({ ...copyLayout(), colour: 'red' });
    expect(success).toBe(false);
    expect(error!.issues[0]!.message).toContain('colour');
  });
});
