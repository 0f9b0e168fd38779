/** Ways to break a chart: which property each must break, and what must be said about it. */
import { State } from '../../src/flow/schema.ts';
import { choiceOf, type Editable, procedureOf, stateOf } from './support.ts';

/** A page for altered charts. */
const page = (choices: unknown[]) => State.parse({ kind: 'question', title: 'T', ask: 'A', choices });
const screw = (charts: Editable) => procedureOf(charts, 'turn-screw');

export type Break = {
  breaks: string;
  by: string;
  change: (charts: Editable) => void;
  says: RegExp;
  way?: RegExp;
};

export const breaks: readonly Break[] = [
  {
    breaks: 'every-state-reached',
    by: 'adding a page that nothing leads to',
    change: ({ main }) => {
      main.states.orphan = page([{ id: 'on', label: 'On', to: 'owner' }]);
    },
    says: /no answers lead to orphan/,
  },
  {
    breaks: 'outcome-reachable',
    by: 'letting an answer lead into a trap',
    change: ({ main }) => {
      main.states.trap = page([{ id: 'stop', label: 'Round', tone: 'quiet', to: 'trap' }]);
      Object.assign(choiceOf(main, 'owner-word', 'no'), { to: 'trap' });
    },
    says: /no outcome can be reached/,
    way: /owner-word: choice no/,
  },
  {
    breaks: 'answers-handled',
    by: 'taking away the last branch of an answer',
    change: ({ main }) => choiceOf(main, 'owner', 'school').go.pop(),
    says: /"choice school" is offered here, but no branch takes it/,
    way: /begin as (director|helper)/,
  },
  {
    breaks: 'answers-handled',
    by: 'taking a verdict only from some',
    change: ({ main }) =>
      Object.assign(stateOf(main, 'weigh').verdicts.bench[0], { when: [{ flag: 'canPlay', is: true }] }),
    says: /"verdict bench" is offered here/,
  },
  {
    breaks: 'counters-bounded',
    by: 'letting attempts go on without limit',
    change: ({ main }) => stateOf(main, 'weigh').verdicts.treat.splice(3, 1),
    says: /the counter "tried" stands at 2, outside 0 to 1/,
  },
  {
    breaks: 'pages-wind-on',
    by: 'leading from one page back to an earlier one',
    change: ({ main }) =>
      Object.assign(choiceOf(main, 'danger-clean', 'not-known'), { go: [{ to: 'owner' }] }),
    says: /danger-clean, .*owner.* lead in a circle/,
  },
  {
    breaks: 'procedures-end',
    by: 'letting two pages of a procedure lead to each other',
    change: (charts) =>
      Object.assign(choiceOf(screw(charts), 'be-sure', 'not-sure'), { to: 'find-screw', exit: undefined }),
    says: /be-sure, .*find-screw can go round for ever/,
  },
  {
    breaks: 'confirmed-first',
    by: 'treating without a proof',
    change: ({ main }) => {
      for (const branch of stateOf(main, 'weigh').verdicts.treat) {
        branch.when = branch.when.filter(
          (condition: { confirmed?: boolean }) => condition.confirmed === undefined,
        );
        if (branch.when.length === 0) delete branch.when;
      }
    },
    says: /is entered although fault-a has not been proved/,
    way: /weigh: verdict treat fault-a by/,
  },
  {
    breaks: 'desk-never-adjusts',
    by: 'forgetting that the desk holds no instrument',
    change: ({ main }) => {
      const treat = stateOf(main, 'weigh').verdicts.treat;
      treat.splice(0, 3);
    },
    says: /the desk is led into turn-screw/,
    way: /begin as desk/,
  },
  {
    breaks: 'helper-approved',
    by: 'leaving the supervisor out',
    change: ({ main }) => choiceOf(main, 'before-treat', 'ready').go.shift(),
    says: /a helper is led into .* without a supervisor's word/,
    way: /begin as helper/,
  },
  {
    breaks: 'owner-allows',
    by: 'not asking the owner',
    change: ({ main }) => stateOf(main, 'weigh').verdicts.treat.splice(2, 1),
    says: /turn-screw adjusts something although the owner has not allowed it/,
  },
  {
    breaks: 'person-may',
    by: 'not asking for whom a procedure is',
    change: (charts) => {
      screw(charts).persons = ['director'];
      stateOf(charts.main, 'weigh').verdicts.treat.shift();
    },
    says: /turn-screw is not for a helper/,
  },
  {
    breaks: 'danger-ends',
    by: 'going on after a danger sign',
    change: ({ main }) => Object.assign(stateOf(main, 'weigh').verdicts.danger[0], { to: 'isolate' }),
    says: /a danger sign at weigh leads on to isolate/,
  },
  {
    breaks: 'outcomes-complete',
    by: 'leaving out what to do until it is mended, and the cautions',
    change: ({ outcomes }) => Object.assign(outcomes.outcomes[0]!, { untilMended: [], cautions: [] }),
    says: /the outcome mended lacks a caution and what to do until it is mended/,
  },
  {
    breaks: 'way-out',
    by: 'leading the way out of a page back to it',
    change: ({ main }) =>
      stateOf(main, 'not-yet').choices.push({ id: 'stop', label: 'Stop', tone: 'quiet', to: 'not-yet' }),
    says: /not-yet has no quiet way out/,
  },
  {
    breaks: 'declining-ends',
    by: 'leading the quiet answer of a page back to it',
    change: ({ main }) =>
      stateOf(main, 'not-yet').choices.push({ id: 'stop', label: 'Stop', tone: 'quiet', to: 'not-yet' }),
    says: /who declines what not-yet asks comes to no end/,
  },
  {
    breaks: 'declining-is-safe',
    by: 'keeping a screw turned when somebody declines to test it',
    change: (charts) =>
      stateOf(screw(charts), 'test').choices.push({
        id: 'stop',
        label: 'Stop',
        tone: 'quiet',
        to: 'keep',
      }),
    says: /"choice stop" declines what procedure.turn-screw.test asks, and leaves a screw turned/,
    way: /turn-quarter: choice turned/,
  },
  {
    breaks: 'turns-declared',
    by: 'turning without a counter',
    change: (charts) => {
      delete screw(charts).turns;
    },
    says: /turn-quarter, turn-eighth turns something, but no counter is named/,
  },
  {
    breaks: 'turns-counted',
    by: 'not counting an eighth',
    change: (charts) => delete choiceOf(screw(charts), 'turn-eighth', 'turned').count,
    says: /turn-eighth goes on to test without counting what was turned/,
  },
  {
    breaks: 'turns-limited',
    by: 'turning on while it is better',
    change: (charts) => choiceOf(screw(charts), 'test', 'better').go.splice(0, 2),
    says: /the counter "turned" stands at 9|the counter "turned" stands at 10/,
    way: /turn-quarter: choice turned/,
  },
  {
    breaks: 'test-after-turn',
    by: 'turning twice without a test',
    change: (charts) =>
      Object.assign(choiceOf(screw(charts), 'turn-quarter', 'turned'), { to: 'turn-eighth' }),
    says: /turn-quarter goes on to turn-eighth, which is neither a test nor the putting back/,
  },
  {
    breaks: 'stop-sign',
    by: 'passing over the sign to stop',
    change: (charts) => Object.assign(choiceOf(screw(charts), 'test', 'gone'), { to: 'too-far' }),
    says: /test can lead to turning on, but never to the sign that says stop/,
  },
  {
    breaks: 'overshoot',
    by: 'leaving out the test for too far',
    change: (charts) => Object.assign(choiceOf(screw(charts), 'stop-sign', 'yes'), { to: 'keep' }),
    says: /keep can be reached from turning without the test for too far/,
  },
  {
    breaks: 'overshoot',
    by: 'having no way to take an eighth back',
    change: (charts) => choiceOf(screw(charts), 'too-far', 'too-far').go.pop(),
    says: /too-far offers no way to take an eighth back/,
  },
  {
    breaks: 'put-back',
    by: 'offering no way back from the last page',
    change: (charts) =>
      stateOf(screw(charts), 'keep').choices.push({
        id: 'stop',
        label: 'Stop',
        tone: 'quiet',
        exit: 'bench',
      }),
    says: /at procedure.turn-screw.keep 2 eighths are turned, and no answer leads to putting them back/,
    way: /too-far: choice fine/,
  },
  {
    breaks: 'turns-accounted',
    by: 'walking away from a turned screw',
    change: (charts) => {
      screw(charts).wayOut = { id: 'stop', label: 'Stop', tone: 'quiet', exit: 'stopped' };
    },
    says: /"choice stop" leaves by "stopped", which says as-found, with 2 eighths turned/,
    way: /test$/,
  },
  {
    breaks: 'counted-on-ticket',
    by: 'ending without a ticket where a screw was left turned',
    change: ({ main }) => Object.assign(stateOf(main, 'procedure').exits.bench[0], { to: 'nothing-found' }),
    says: /a screw is left turned, and the run ends as nothing-found, which has no ticket/,
  },
];
