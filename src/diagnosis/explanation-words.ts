/** The sentences of an explanation: what was heard, what leads, and what speaks for it and against the rest. */
import { sayChance, sayList, saySounding } from './finding-words.ts';

export type Explanation = {
  /** The fingerings that failed and that spoke, as a player says them. */
  readonly failed: readonly string[];
  readonly spoke: readonly string[];
  /** What the failing ones have in common that the speaking ones lack; empty when no single part tells them apart. */
  readonly shared: string;
  /** What is likeliest of all: the likeliest fault, that nothing is wrong, or something that is in no list; null when nothing was found. */
  readonly leads: 'fault' | 'nothing-wrong' | 'something-else' | null;
  /** The likeliest fault, also where it does not lead: what it is, what it means, how often in instruments with these answers. */
  readonly lead: {
    readonly fault: string;
    readonly title: string;
    readonly means: string;
    readonly chance: string;
  } | null;
  /** Per suspect worth naming: the findings that speak for it, strongest first. */
  readonly because: ReadonlyMap<string, readonly string[]>;
  /** The two runners-up, and what speaks against each as compared with the lead. */
  readonly against: readonly { readonly fault: string; readonly title: string; readonly because: string }[];
  /** The whole of it. */
  readonly sentences: readonly string[];
};

/** What an explanation is written from. */
export type Explained = Omit<Explanation, 'sentences'> & {
  /** How many of the notes use the suspected part; empty when that says nothing. */
  readonly uses: string;
  /** The likeliest fault and what speaks against it, where no fault leads; null where one does. */
  readonly nearest: { readonly title: string; readonly share: number; readonly against: string } | null;
  /** Share of what leads instead of a fault. */
  readonly share: number;
  /** No single cause explains the answers together. */
  readonly isContradictory: boolean;
};

/** Below this share a leading fault does not stand out; figure of ours, the least that has words of its own. */
const STANDS_OUT = 0.05;

/** The whole explanation, sentence by sentence; none when nothing was found. */
export function writeSentences(the: Explained): string[] {
  const { leads, failed, spoke, isContradictory } = the;
  if (leads === null) return [];
  const sounding = saySounding(failed, spoke);
  const doubts = isContradictory
    ? [
        'The answers contradict each other, whatever is wrong. One of them may be a slip: try again what surprised you most.',
      ]
    : [];
  if (leads === 'fault') return [...sounding, ...doubts, ...sayPattern(the), ...sayLead(the)];
  const head =
    leads === 'nothing-wrong'
      ? [
          `${capital(sayChance(the.share))} instruments with these answers have nothing wrong at all.`,
          ...(failed.length === 0
            ? []
            : [
                `Now and then a note fails on a good instrument too, as ${sayFailing(failed)} did here: by a slip, or because the player is not there yet.`,
              ]),
        ]
      : [
          `${capital(sayChance(the.share))} instruments with these answers have something that is not on our list. No fault on it explains them well.`,
        ];
  return [...sounding, ...doubts, ...head, ...sayNearest(the)];
}

function sayFailing(failed: readonly string[]): string {
  return failed.length <= 3 ? sayList(failed) : `these ${failed.length}`;
}

/** What the failing notes share, which only helps where a fault is to be shown by it. */
function sayPattern({ shared, failed, spoke, uses }: Explained): string[] {
  if (failed.length < 2 && spoke.length === 0) return [];
  if (shared !== '' && spoke.length === 0)
    return [`What all the failing notes have in common: they ${shared}.`];
  if (shared !== '') return [`What the failing notes have in common and the others lack: they ${shared}.`];
  if (failed.length < 2) return [];
  return [`No one part is used by all the failing notes and by none of the others. ${uses}`.trim()];
}

function sayLead({ lead, because, against, nearest }: Explained): string[] {
  if (lead === null) return [];
  if (nearest !== null)
    return [
      `Nothing stands out yet. The likeliest single fault, in ${sayChance(nearest.share)}: ${lead.title}. ${lead.means}`,
    ];
  const reasons = because.get(lead.fault) ?? [];
  return [
    `${capital(lead.chance)} instruments with these answers have this fault: ${lead.title}. ${lead.means}`,
    ...(reasons.length > 0 ? [`What speaks for it most: ${reasons.join('; ')}.`] : []),
    ...against.map(({ title, because: reason }) => `Why not this: ${title}? ${capital(reason)}.`),
  ];
}

function sayNearest({ leads, nearest }: Explained): string[] {
  if (nearest === null || (leads === 'nothing-wrong' && !standsOut(nearest.share))) return [];
  const { title, share, against } = nearest;
  const which =
    leads === 'nothing-wrong'
      ? 'If something is wrong after all, it is most likely this'
      : 'The nearest of them is this';
  return [
    `${which}: ${title} (${sayChance(share)}).${against === '' ? '' : ` What speaks against it: ${against}.`}`,
  ];
}

/** Whether a fault stands out at all. @param share its share of all chances. */
export function standsOut(share: number): boolean {
  return share >= STANDS_OUT;
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);
