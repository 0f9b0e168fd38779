// The complaint in words: free text becomes findings that the person confirms before they count.
export type { Proposal } from './proposals.ts';
export { type Reading, readComplaint } from './read-complaint.ts';
export { ComplaintText, longestComplaint, Vocabulary } from './schema.ts';
export type { Understood } from './understood.ts';
export { findVocabularyProblems, type VocabularyProblem } from './vocabulary-problems.ts';
