/** One step from a layout of the file to the next. Never edited once released: a later step corrects an earlier one. */
export type Migration = {
  /** The layout that the file has after this step: 1, 2, 3, … */
  layout: number;
  name: string;
  /** SQL statements, run together in one transaction. */
  statements: string;
};
