// The policy of the diagnosis on paper: usual complaints, what is asked and done for every answer, as numbered questions.
export { type Complaint, inOrder, type Opening, openComplaint, usualComplaints } from './complaints.ts';
export { fitGraph, type Lines, linesOf, type Room } from './fit.ts';
export { drawGraph, endingKey, type Question, type SheetGraph, type Target } from './graph.ts';
export { type Ending, type EndPoint, growPolicy, type Point, type PolicyStart } from './policy.ts';
