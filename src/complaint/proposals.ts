/** Claims as findings that a person can tick. */
import type { DiagnosisModel, Finding } from '../diagnosis/index.ts';
import { type Fingering, midi } from '../mechanism/index.ts';
import type { Claims, NoteClaim, PartClaim } from './claims.ts';
import type { Told } from './clauses.ts';
import type { Item } from './items.ts';
import { type NoteBook, spreadOver } from './note-book.ts';
import { capitalise, fill, heardAt, sayOutcome } from './note-sentences.ts';
import { findingOfSeveral, findingsOfSign } from './part-findings.ts';
import type { Vocabulary } from './schema.ts';

export type Proposal = {
  /** What it would find, in short; the same for the same findings. */
  readonly id: string;
  /** The sentence for the tap. */
  readonly says: string;
  readonly findings: readonly Finding[];
  /** The likeliest reading of the words. The others are there to be chosen instead. */
  readonly isLikely: boolean;
};

export type Proposed = { readonly proposal: Proposal; readonly items: readonly Item[] };

/** The proposals of all claims, each once, in the order of likely ones first. */
export function makeProposals(
  model: DiagnosisModel,
  vocabulary: Vocabulary,
  book: NoteBook,
  { notes, parts, stories }: Claims,
): Proposed[] {
  const proposed = [
    ...notes.map((claim) => proposeNotes(model, vocabulary, book, claim)),
    ...parts.flatMap((claim) => proposeParts(model, vocabulary, claim)),
    ...stories.flatMap((story) => proposeStory(model, story)),
  ];
  const byId = new Map<string, Proposed>();
  for (const one of [...proposed.filter(isLikely), ...proposed.filter((other) => !isLikely(other))]) {
    const known = byId.get(one.proposal.id);
    byId.set(
      one.proposal.id,
      known === undefined ? one : { ...known, items: [...known.items, ...one.items] },
    );
  }
  return [...byId.values()];
}

function isLikely({ proposal }: Proposed): boolean {
  return proposal.isLikely;
}

function proposeNotes(
  { instrument }: DiagnosisModel,
  { limits, sentences }: Vocabulary,
  book: NoteBook,
  claim: NoteClaim,
): Proposed {
  const { outcome, isStretch, covers, rank, items } = claim;
  const fingerings = [...new Set(claim.fingerings)].toSorted(
    (one, other) => midi(one.note) - midi(other.note),
  );
  const chosen = isStretch ? spreadOver(preferCommon(book, fingerings), limits.notes) : fingerings;
  const findings = chosen.map((fingering): Finding => {
    const sounded = outcome.answered === 'wrong' ? heardAt(instrument, fingering, outcome) : null;
    return {
      note: fingering.note,
      fingering: fingering.id,
      answered: outcome.answered,
      ...(sounded === null ? {} : { sounded }),
    };
  });
  const says = sayOutcome(instrument, book, { outcome, fingerings, covers }, sentences);
  return { proposal: { id: idOf(findings), says, findings, isLikely: rank !== 'other' }, items };
}

/** Rare notes are left out of a stretch as long as others are there. */
function preferCommon(book: NoteBook, fingerings: readonly Fingering[]): readonly Fingering[] {
  const common = fingerings.filter(book.isEverywhere);
  return common.length > 0 ? common : fingerings;
}

function proposeParts(
  model: DiagnosisModel,
  { limits }: Vocabulary,
  { shown, subject, items }: PartClaim,
): Proposed[] {
  const found = findingsOfSign(model, subject.target.named!, shown);
  const best = found[0];
  if (best === undefined) return [];
  const whole = findingOfSeveral(model, found, shown);
  const isClear = best.chance >= limits.partAt && whole === null && shown.isOpen !== true;
  const shownHere = found.slice(0, 1 + limits.otherReadings);
  const propose = (finding: Finding, says: string, isLikely: boolean): Proposed => ({
    proposal: { id: idOf([finding]), says, findings: [finding], isLikely },
    items,
  });
  return [
    ...(whole === null ? [] : [propose(whole.finding, whole.says, true)]),
    ...shownHere.map(({ part, finding, says }, index) =>
      propose(
        finding,
        capitalise(fill(says, { place: part.name.replace(/ \(.*\)$/, '') })),
        isClear && index === 0,
      ),
    ),
  ];
}

function proposeStory(model: DiagnosisModel, { item, story, isNegated }: Told): Proposed[] {
  const told = isNegated ? story.negated : story;
  const check = model.checks.find(
    ({ id, kind }) => kind === story.check && (story.at === undefined || id === `${kind}@${story.at}`),
  );
  if (told === undefined || check === undefined) return [];
  const findings = [{ check: check.id, saw: told.saw }];
  return [{ proposal: { id: idOf(findings), says: told.says, findings, isLikely: true }, items: [item] }];
}

function idOf(findings: readonly Finding[]): string {
  return findings
    .map((finding) =>
      'check' in finding
        ? `${finding.check}=${finding.saw}`
        : `${finding.fingering}=${finding.answered}${finding.sounded === undefined ? '' : `:${finding.sounded}`}`,
    )
    .join(' ');
}
