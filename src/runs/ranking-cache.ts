/** Rankings of checks kept for other runs with the same findings; a bounded memory, one per model. */
import { LRUCache } from 'lru-cache';
import type { DiagnosisModel, RankedCheck, RankingCache } from '../diagnosis/index.ts';

const keptRankings = 2000;

const caches = new WeakMap<DiagnosisModel, RankingCache>();

/** The model's memory of rankings. */
export function rankingCacheOf(model: DiagnosisModel): RankingCache {
  const known = caches.get(model) ?? new LRUCache<string, readonly RankedCheck[]>({ max: keptRankings });
  caches.set(model, known);
  return known;
}
