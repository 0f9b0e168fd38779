import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openSqliteStore } from '../../src/store/index.ts';
import { describeRunStore } from './contract/run-store-contract.ts';

const makePlace = (sharedCommits: boolean) => () => {
  const directory = mkdtempSync(join(tmpdir(), 'quarter-turn-test-'));
  return {
    open: () => openSqliteStore({ directory, sharedCommits }),
    remove: () => rmSync(directory, { recursive: true, force: true }),
  };
};

describeRunStore('a store in a SQLite file', makePlace(true));
describeRunStore('a store in a SQLite file with one commit for each write', makePlace(false));
