/** What further checks would tell: how long each takes, which suspects it parts, and what each answer would leave. */
import {
  addFinding,
  type Belief,
  type Check,
  checkOf,
  type Finding,
  nextChecks,
  type Suspects,
  sayChance,
  suspects,
  toolsInHand,
} from '../diagnosis/index.ts';
import { type RunBook, situationOf } from './book.ts';
import type { NoteFinding } from './findings.ts';
import type { RunState } from './run-state.ts';
import type { WhyCase } from './why-case.ts';
import type { WhyCheck } from './why-schema.ts';

/** So many checks are shown. */
const shown = 8;
/** So many are looked at until there are enough. */
const lookedAt = 12;
/** Among so many of the leading suspects is looked for two that a check parts. */
const compared = 4;
/** Suspects below this share are not worth telling apart. */
const worthParting = 0.01;
/** An answer parts two suspects when it makes one of them so many times likelier as against the other; ours. */
const partsFrom = 4;

type Contender = { readonly key: string; readonly title: string; readonly share: number };
type Answer = { readonly id: string; readonly label: string; readonly after: readonly Contender[] };

/** The checks that tell most for the time they take; the one that is being asked for stands first. */
export function viewChecks(book: RunBook, state: RunState, whyCase: WhyCase): WhyCheck[] {
  if (whyCase.moment === 'before-treatment') return [];
  const { model } = book;
  const { belief, findings, treated } = whyCase;
  const asked = new Set(findings.map((finding) => checkOf(model, finding)));
  const current = checkAskedNow(book, state);
  const ranked = nextChecks(model, belief, situationOf(book, state), asked, treated, {
    inHand: toolsInHand(model, findings),
  }).map(({ check }) => check);
  const now = contenders(suspects(model, belief));
  const views: WhyCheck[] =
    current === null ? [] : [viewCheck(book, belief, now, model.check(current), true)];
  for (const id of ranked.filter((one) => one !== current).slice(0, lookedAt)) {
    if (views.length === shown) break;
    const view = viewCheck(book, belief, now, model.check(id), false);
    if (tellsAnything(view)) views.push(view);
  }
  return views;
}

/** What each answer would leave the same, as far as words can say, is not worth a reader's time. */
function tellsAnything({ answers }: WhyCheck): boolean {
  return new Set(answers.map(({ leads, words }) => `${leads} ${words}`)).size > 1;
}

function checkAskedNow({ content }: RunBook, { flow, focus }: RunState): string | null {
  return content.flow.step(flow).kind === 'check' ? focus.check : null;
}

function viewCheck(
  book: RunBook,
  belief: Belief,
  now: readonly Contender[],
  check: Check,
  isAskedNow: boolean,
): WhyCheck {
  const answers = check.answers.map(({ id, label }): Answer => {
    const after = addFinding(book.model, belief, findingFor(book, check, id), book.person);
    return { id, label, after: contenders(suspects(book.model, after)) };
  });
  return {
    check: check.id,
    title: check.title,
    isAskedNow,
    seconds: check.seconds,
    duration: sayDuration(check.seconds),
    tells: sayParted(now, answers),
    answers: answers.flatMap(({ id, label, after }) => {
      const lead = after[0];
      return lead === undefined
        ? []
        : [
            {
              answer: id,
              label,
              leads: lead.title,
              probability: lead.share,
              words: sayChance(lead.share),
            },
          ];
    }),
  };
}

function findingFor({ instrument }: RunBook, check: Check, saw: string): Finding {
  if (check.kind !== 'play') return { check: check.id, saw };
  const { id, note } = instrument.fingering(check.place);
  return { note, fingering: id, answered: saw as NoteFinding['answered'] };
}

/** Everything that may be the matter, likeliest first, "nothing wrong" and what is on no list among it. */
function contenders({ faults, healthy, somethingElse }: Suspects): Contender[] {
  return [
    ...faults.map(({ fault, title, probability }) => ({ key: fault, title, share: probability })),
    { key: 'nothing-wrong', title: 'Nothing wrong at all', share: healthy },
    { key: 'something-else', title: 'Something that is not on our list', share: somethingElse },
  ].sort((one, other) => other.share - one.share);
}

/** In words: the likeliest two that some answer parts; else whether the likeliest is it at all. */
function sayParted(now: readonly Contender[], answers: readonly Answer[]): string {
  const leading = now.slice(0, compared).filter(({ share }) => share >= worthParting);
  for (const [place, one] of leading.entries()) {
    for (const other of leading.slice(place + 1)) {
      if (answers.some(({ after }) => ratioBetween(one, other, after) >= partsFrom))
        return `Tells these two apart: “${one.title}” and “${other.title}”.`;
    }
  }
  const lead = leading[0];
  if (lead !== undefined && answers.some(({ after }) => oddsChange(lead, after) >= partsFrom))
    return `Tells whether it is “${lead.title}” or something less likely.`;
  return 'Tells a little about several of them.';
}

/** How many times an answer changes how two suspects stand to each other: a likelihood ratio, by Bayes' rule. */
function ratioBetween(one: Contender, other: Contender, after: readonly Contender[]): number {
  const ratio = changeOf(one, after) / changeOf(other, after);
  return Math.max(ratio, 1 / ratio);
}

function oddsChange(one: Contender, after: readonly Contender[]): number {
  const odds = (share: number) => share / (1 - share);
  const ratio = odds(shareIn(after, one.key)) / odds(one.share);
  return Math.max(ratio, 1 / ratio);
}

/** Something given up as hopeless stands at this share, so that ratios stay finite. */
const hopeless = 1e-8;

const changeOf = (one: Contender, after: readonly Contender[]) =>
  shareIn(after, one.key) / Math.max(one.share, hopeless);

function shareIn(list: readonly Contender[], key: string): number {
  return Math.max(hopeless, list.find((one) => one.key === key)?.share ?? 0);
}

const minute = 60;

/** "about 15 seconds", "about a minute", "about 2 and a half minutes". */
function sayDuration(seconds: number): string {
  if (seconds < 50) return `about ${Math.max(5, Math.round(seconds / 5) * 5)} seconds`;
  const halves = Math.round((seconds / minute) * 2);
  const whole = Math.floor(halves / 2);
  const isHalf = halves % 2 === 1;
  if (whole <= 1) return isHalf ? 'about a minute and a half' : 'about a minute';
  return isHalf ? `about ${whole} and a half minutes` : `about ${whole} minutes`;
}
