/** Beliefs kept for the next answer, so that an answer costs one update however long the run is. */
import { LRUCache } from 'lru-cache';
import {
  addFinding,
  type Belief,
  believe,
  type DiagnosisModel,
  type Finding,
  type Person,
  type TreatedFault,
  withTreated,
} from '../diagnosis/index.ts';

/** A belief takes up to 350 kB; runs that go on at the same time share what they have in common. */
const keptBeliefs = 160;

const caches = new WeakMap<DiagnosisModel, LRUCache<string, Belief>>();

/**
 * The belief after these findings, from the cache where it or its predecessor is there. Only speed depends on the
 * cache: what comes back is what `believe` gives.
 */
export function believeCached(
  model: DiagnosisModel,
  findings: readonly Finding[],
  person: Person,
  treated: readonly TreatedFault[],
): Belief {
  const cache = caches.get(model) ?? new LRUCache<string, Belief>({ max: keptBeliefs });
  caches.set(model, cache);
  const base = `${person}|${treated.map(({ fault, exit }) => `${fault}:${exit}`).join(',')}`;
  const keys = findings.map(keyOf);
  const key = `${base}|${keys.join('|')}`;
  const kept = cache.get(key);
  if (kept !== undefined) return kept;
  const last = findings.at(-1);
  const before = last === undefined ? undefined : cache.get(`${base}|${keys.slice(0, -1).join('|')}`);
  const belief =
    before === undefined || last === undefined
      ? believe(model, findings, person, treated)
      : withTreated(model, addFinding(model, before, last, person), treated);
  cache.set(key, belief);
  return belief;
}

function keyOf(finding: Finding): string {
  if ('check' in finding) return `${finding.check}=${finding.saw}`;
  return `${finding.fingering ?? finding.note}=${finding.answered}${finding.sounded === undefined ? '' : `:${finding.sounded}`}`;
}
