/** What the ticket says about a run as a whole: its code, and when it was opened (ISO 8601). */
export type RunFacts = { readonly id: string; readonly openedAt: string };
