// The program's entry, plain JavaScript on purpose: an older Node must be able to read it and say what is wrong.
import './check-node.js';
import * as nodeModule from 'node:module';

// Keeps compiled code between starts; only the time to listening depends on it.
nodeModule.enableCompileCache?.();
void import('./main.ts');
