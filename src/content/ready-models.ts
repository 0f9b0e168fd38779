/** The models of the instruments in use. */
import { LRUCache } from 'lru-cache';
import type { DiagnosisModel } from '../diagnosis/index.ts';

/**
 * So many models are held at a time, of all editions together: one with all that is worked out for it takes some 10 MB
 * (measured), and making one anew some 20 ms. A band room seldom has more kinds of instruments in hand at once.
 */
const heldReady = 8;
const held = new LRUCache<object, DiagnosisModel>({ max: heldReady });

/** Gives the model that `make` makes: the same one as long as it is in use, a new one when it has not been for long. */
export function holdReady(make: () => DiagnosisModel): () => DiagnosisModel {
  const place = {};
  return () => {
    const model = held.get(place) ?? make();
    held.set(place, model);
    return model;
  };
}
