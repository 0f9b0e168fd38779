import type { Migration } from './migration.ts';

// An append costs the pages that it touches. So a run's row holds no snapshot (the opening one has a table of its own, the
// later ones are with their entries), entries point at their run by number and not by its longer id, and the snapshot is
// the last column, which lists and logs do not read.
/** The first layout: editions of the flows, runs, entries, and the row that the readiness check writes. */
export const createRuns: Migration = {
  layout: 1,
  name: 'runs, entries, editions',
  statements: `
    CREATE TABLE editions (
      version TEXT PRIMARY KEY,
      content TEXT NOT NULL
    ) STRICT;

    CREATE TABLE runs (
      number INTEGER PRIMARY KEY,
      id TEXT NOT NULL UNIQUE,
      creation_key TEXT NOT NULL UNIQUE,
      instrument TEXT NOT NULL,
      person TEXT NOT NULL,
      edition TEXT NOT NULL REFERENCES editions (version),
      opened_at TEXT NOT NULL,
      revision INTEGER NOT NULL DEFAULT 0 CHECK (revision >= 0),
      closed INTEGER NOT NULL DEFAULT 0 CHECK (closed IN (0, 1))
    ) STRICT;

    CREATE TABLE openings (
      run INTEGER PRIMARY KEY REFERENCES runs (number),
      state TEXT NOT NULL
    ) STRICT;

    CREATE INDEX runs_by_closed ON runs (closed, number);

    CREATE TABLE entries (
      run INTEGER NOT NULL REFERENCES runs (number),
      revision INTEGER NOT NULL CHECK (revision >= 1),
      key TEXT NOT NULL,
      at TEXT NOT NULL,
      body_hash TEXT NOT NULL,
      closed INTEGER NOT NULL CHECK (closed IN (0, 1)),
      body TEXT NOT NULL,
      state TEXT NOT NULL,
      PRIMARY KEY (run, revision),
      UNIQUE (run, key)
    ) STRICT;

    CREATE TABLE readiness (
      only INTEGER PRIMARY KEY CHECK (only = 1),
      written INTEGER NOT NULL
    ) STRICT;

    INSERT INTO readiness (only, written) VALUES (1, 0);
  `,
};
