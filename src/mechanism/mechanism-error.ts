/** Says that an instrument's data do not hold together. `problems` has one sentence for each thing to put right. */
export class MechanismError extends Error {
  readonly problems: readonly string[];

  constructor(instrument: string, problems: readonly string[]) {
    super(
      `The data of "${instrument}" do not hold together:\n${problems.map((problem) => `- ${problem}`).join('\n')}`,
    );
    this.name = 'MechanismError';
    this.problems = problems;
  }
}
