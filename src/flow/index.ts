/** The charts as data, compiled and walked; and the proofs about them. */
export { type Charts, FlowError, type FlowProblem } from './charts.ts';
export type { FlowOpening } from './compile.ts';
export type { FlowContext, Repair } from './context.ts';
export {
  type Caution,
  CautionsFile,
  type Job,
  JobsFile,
  type Outcome,
  OutcomesFile,
  type SourceEntry,
  type Urgency,
} from './ending-schema.ts';
export { blanksOf, type Family, FamilyFile } from './families.ts';
export { compileFlow, type Flow, type FlowSituation } from './flow.ts';
export {
  fillTemplate,
  listPlaceholders,
  type Placeholder,
  placeholders,
  type RunPlaceholder,
  turnsInWords,
} from './placeholders.ts';
export type { Failure, Property } from './proof/property.ts';
export { type ProofReport, proveFlow } from './proof/prove.ts';
export { Direction, FlowEvent, MainFile, Person, ProcedureFile, type VerdictName } from './schema.ts';
export type { FlowOutcome, FlowState, FlowStep, ShownCaution } from './step.ts';
export { findTradeWords, type TradeWord, tradeWordsOf, WordsFile } from './trade-words.ts';
