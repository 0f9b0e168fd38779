/** Which of the things said in a clause belongs to which of the things spoken of. */
import type { Predicate, Subject } from './clauses.ts';

export type Pair = { readonly subjects: readonly Subject[]; readonly predicates: readonly Predicate[] };

type Cluster =
  | { readonly sort: 'subjects'; readonly list: Subject[] }
  | { readonly sort: 'predicates'; readonly list: Predicate[] };

/**
 * Pairs by order: "D and C squeak" and "squeaks on D and C" alike, several of them in one clause. Where a row of notes
 * stands between two predicates, its last note goes with what follows it ("squeaks on D and E is fine").
 */
export function pairUp(elements: readonly (Subject | Predicate)[]): Pair[] {
  const clusters = clusterUp(elements);
  const pairs: Pair[] = [];
  for (let at = 0; at < clusters.length; ) {
    const [here, next, after] = clusters.slice(at, at + 3);
    if (here!.sort === 'predicates') {
      if (next?.sort !== 'subjects') {
        pairs.push({ subjects: [], predicates: here!.list });
        at += 1;
      } else if (after?.sort === 'predicates' && next.list.length > 1 && !after.list[0]!.isAfterComma) {
        pairs.push({ subjects: next.list.slice(0, -1), predicates: here!.list });
        clusters[at + 1] = { sort: 'subjects', list: next.list.slice(-1) };
        at += 1;
      } else if (after?.sort === 'predicates' && clusters.length === at + 3) {
        pairs.push({ subjects: next.list, predicates: [...here!.list, ...after.list] });
        at += 3;
      } else {
        pairs.push({ subjects: next.list, predicates: here!.list });
        at += 2;
      }
      continue;
    }
    if (next?.sort !== 'predicates') {
      pairs.push({ subjects: here!.list, predicates: [] });
      at += 1;
      continue;
    }
    const isSplit = after?.sort === 'subjects' && belongsBefore(after) && next.list.length > 1;
    if (isSplit) {
      pairs.push({ subjects: here!.list, predicates: next.list.slice(0, -1) });
      pairs.push({ subjects: after.list, predicates: next.list.slice(-1) });
      at += 3;
      continue;
    }
    const isShared = after?.sort === 'subjects' && clusters.length === at + 3;
    pairs.push({
      subjects: isShared ? [...here!.list, ...after.list.filter(isSpokenOf)] : here!.list,
      predicates: next.list,
    });
    at += isShared ? 3 : 2;
  }
  return pairs;
}

/** "Low B breaks when the C sharp key is touched": the key is no second thing that breaks. */
function isSpokenOf({ target, hasPreposition }: Subject): boolean {
  return hasPreposition || target.named?.hasNoun !== true;
}

function belongsBefore({ list }: Extract<Cluster, { sort: 'subjects' }>): boolean {
  return list[0]!.hasPreposition || list[0]!.target.isStretch;
}

function clusterUp(elements: readonly (Subject | Predicate)[]): Cluster[] {
  const clusters: Cluster[] = [];
  for (const element of dropIdleVerbs(elements)) {
    const last = clusters.at(-1);
    if (element.sort === 'subject') {
      if (last?.sort === 'subjects') last.list.push(element);
      else clusters.push({ sort: 'subjects', list: [element] });
    } else if (last?.sort === 'predicates' && !endsCluster(last.list.at(-1)!, element)) {
      last.list.push(element);
    } else {
      clusters.push({ sort: 'predicates', list: [element] });
    }
  }
  return clusters;
}

/** A bare "not" stands for itself. */
function endsCluster(before: Predicate, { answer, sign }: Predicate): boolean {
  return answer === null && sign === null && before.answer !== null;
}

/** "Plays flat", "when I play D it squeaks": the verb says nothing beside the better word. */
function dropIdleVerbs(elements: readonly (Subject | Predicate)[]): (Subject | Predicate)[] {
  return elements.filter((element, index) => {
    if (
      element.sort === 'subject' ||
      element.answer?.isVerb !== true ||
      element.isNegated ||
      element.isHardly
    )
      return true;
    const rest = elements.slice(index + 1);
    const next = rest[0];
    const isPlain = next?.sort === 'subject' && !next.isOnly && !next.isAfterComma;
    const follower = isPlain ? rest[1] : next;
    const isBeside =
      follower?.sort === 'predicate' && (follower.answer ?? follower.sign) !== null && !follower.isAfterComma;
    return !isBeside;
  });
}
