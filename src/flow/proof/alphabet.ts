/** The events that stand for all that can be said to a flow. */
import type { Charts } from '../charts.ts';
import { toMachineEvent } from '../compile.ts';
import type { FlowEvent } from '../schema.ts';

/** Two faults that stand for any: one that is in question, and another. */
export const abstractFaults = ['fault-a', 'fault-b'] as const;

/** An event to try: in words, as the machine names it, and whether a page or weigh state must take it. */
export type Candidate = {
  readonly name: string;
  readonly type: string;
  readonly said: FlowEvent;
  readonly mustTake: boolean;
};

/** The answers with these ids. */
export function choiceCandidates(ids: readonly string[]): Candidate[] {
  return ids.map((id) => candidate(`choice ${id}`, { type: 'choice', choice: id }));
}

/** A check or a play-test written down, without a proof and with a proof of either fault. */
export function recordCandidates(): Candidate[] {
  return [[], ...abstractFaults.map((fault) => [fault])].map((confirms) =>
    candidate(`recorded${confirms.map((fault) => `, proves ${fault}`)}`, { type: 'recorded', confirms }),
  );
}

/** A page of notes that has none to play. */
export const noNotes: Candidate = candidate('no note to play', { type: 'none' });

/** Every verdict, with both faults and every procedure. A treatment may be refused: that is how unproved faults are kept out. */
export function verdictCandidates(charts: Charts): Candidate[] {
  const plain = (['check', 'healthy', 'better', 'danger', 'bench'] as const).map((verdict) =>
    candidate(`verdict ${verdict}`, { type: 'verdict', verdict }),
  );
  const named = abstractFaults.flatMap((fault) => [
    candidate(`verdict bench ${fault}`, { type: 'verdict', verdict: 'bench', fault }),
    candidate(`verdict confirm ${fault}`, { type: 'verdict', verdict: 'confirm', fault }),
    ...charts.procedures.map(({ procedure }) =>
      candidate(
        `verdict treat ${fault} by ${procedure}`,
        { type: 'verdict', verdict: 'treat', fault, procedure, direction: 'in' },
        false,
      ),
    ),
  ]);
  return [...plain, ...named];
}

function candidate(name: string, said: FlowEvent, mustTake = true): Candidate {
  return { name, type: toMachineEvent(said).type, said, mustTake };
}
