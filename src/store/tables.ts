// The tables as the query builder sees them; the same in every database.

/** Column types of each table. `closed` is 0 or 1; JSON is kept as text so that it comes back byte for byte. */
export type StoreTables = {
  editions: { version: string; content: string };
  runs: {
    /** Order in which the store took the runs; never shown. */
    number: number;
    id: string;
    creation_key: string;
    instrument: string;
    person: string;
    edition: string;
    opened_at: string;
    revision: number;
    closed: number;
  };
  /** The snapshot that a run was opened with. */
  openings: {
    /** runs.number */
    run: number;
    state: string;
  };
  entries: {
    /** runs.number */
    run: number;
    revision: number;
    key: string;
    at: string;
    body_hash: string;
    closed: number;
    body: string;
    state: string;
  };
};
