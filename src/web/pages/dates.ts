/** Dates as they are read on paper. */
const dateFormat = new Intl.DateTimeFormat('en-GB', { dateStyle: 'long', timeZone: 'UTC' });

/** A date as it is read, from a moment as it is stored; what is no moment is left as it is. */
export function sayDate(moment: string): string {
  const date = new Date(moment);
  return Number.isNaN(date.getTime()) ? moment : dateFormat.format(date);
}
