// Who is the suspect: exact inference over what may be the matter, the next check, the verdict, the explanation.
export { noteChance, type Playing } from './answering.ts';
export { addFinding, type Belief, believe, startBelief, withTreated } from './belief.ts';
export { type Forecast, type ForecastScore, scoreForecasts } from './calibration.ts';
export { type Check, playCheckId } from './check.ts';
export { type AheadQuestion, type ChecksAhead, checksAhead } from './checks-ahead.ts';
export { type Explanation, explain } from './explanation.ts';
export { describeSuspect, type FaultWords } from './fault-words.ts';
export { answerAsFinding, COULD_NOT_TELL, checkOf, fingeringOf, readFinding } from './finding.ts';
export { sayChance, sayList } from './finding-words.ts';
export { findKnowledgeProblems, KnowledgeError, type KnowledgeProblem } from './knowledge.ts';
export { buildDiagnosisModel, checkKnowledge, type DiagnosisModel } from './model.ts';
export { PlaceId } from './place-filter.ts';
export { notesToPlay, type PlayTest, playTest } from './play-test.ts';
export { nextChecks, type RankedCheck, type RankingCache, type Scope, toolsInHand } from './ranking.ts';
export { retestNotes, staleAfter } from './retest.ts';
export {
  Answered,
  CheckFinding,
  type CheckKind,
  ChecksFile,
  FaultsFile,
  Finding,
  FrequenciesFile,
  type Knowledge,
  NoteFinding,
  PeopleFile,
  Person,
  Situation,
  Tool,
  TreatedFault,
} from './schema.ts';
export { type Suspect, type Suspects, suspects } from './suspects.ts';
export {
  isProved,
  type Obstacle,
  obstacleTo,
  type Proof,
  proofsOf,
  provedBy,
  treatmentOf,
} from './treatment.ts';
export { decide } from './verdict.ts';
export type { BenchReason, DecideOptions, Verdict } from './verdict-case.ts';
export { warmUp } from './warm-up.ts';
export { sayNote } from './wording.ts';
