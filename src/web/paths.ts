/** Every address that a page links to, in one place: templates take addresses only from here. */

/** Address of a run's current step. */
export function runPath(id: string): string {
  return `/r/${encodeURIComponent(id)}`;
}

/** Address of the first page of the example run. */
export const examplePath = runPath('example');

/** Address of the list of instruments. */
export const instrumentsPath = '/instruments';

/** Address of the page that tells all that is known of an instrument. */
export function instrumentPath(id: string): string {
  return `${instrumentsPath}/${encodeURIComponent(id)}`;
}

/** Address of the same for programs. */
export function instrumentApiPath(id: string): string {
  return `/api${instrumentPath(id)}`;
}

/** Address that takes answers to a run's current step. */
export function answersPath(id: string): string {
  return `${runPath(id)}/answers`;
}

/** Address that takes the last answer of a run back. */
export function undoPath(id: string): string {
  return `${runPath(id)}/undo`;
}

/** Address that takes changes of earlier answers. */
export function changesPath(id: string): string {
  return `${runPath(id)}/changes`;
}

/** Address of the page on which one earlier answer can be changed. */
export function changePath(id: string, entry: number): string {
  return `${runPath(id)}/change/${entry}`;
}

/** Address of a run's bench ticket as one printable sheet. */
export function ticketPath(id: string): string {
  return `${runPath(id)}/ticket`;
}

/** Address of a run's outcome as one printable sheet for the case. */
export function cardPath(id: string): string {
  return `${runPath(id)}/card`;
}

/** Address of the page by which somebody else takes a run over. */
export function handOverPath(id: string): string {
  return `${runPath(id)}/hand-over`;
}

/** Address of the page that says a run's current step in plain words. */
export function helpPath(id: string): string {
  return `${runPath(id)}/help`;
}

/** Address of the form that leads to a paper version. */
export const paperPath = '/paper';

/** What a paper version is made for, so far. */
type PaperChoice = {
  readonly instrument: string;
  readonly person: string;
  readonly tools: readonly string[];
};

/** Address of the form with what was chosen in it: the complaints of that instrument. */
export function paperComplaintPath({ instrument, person, tools }: PaperChoice): string {
  const query = new URLSearchParams({ instrument, person });
  for (const tool of tools) query.append('tools', tool);
  return `${paperPath}?${query}`;
}

/** Address of a paper version. */
export function paperSheetPath(choice: PaperChoice & { readonly failing: readonly string[] }): string {
  const query = new URLSearchParams({ failing: choice.failing.join(' ') });
  return `${paperComplaintPath(choice).replace('?', '/sheet?')}&${query}`;
}

/** Address of the page that says why a run thinks what it thinks. */
export function whyPath(id: string): string {
  return `${runPath(id)}/why`;
}

/** Address of the page that explains a problem of the catalogue; also the RFC 9457 `type` of that problem. */
export function problemPath(code: string): string {
  return `/problems/${encodeURIComponent(code)}`;
}

/** The element id of a fingering's row on the play-test page. */
export function noteAnchor(fingering: string): string {
  return `note-${fingering.replaceAll(/[^A-Za-z0-9]+/g, '-')}`;
}
