/** Whether the texts of the charts use only placeholders and cautions that exist. */
import { type Chart, type Charts, isPage, type Report } from './charts.ts';
import { isPlaceholder, listPlaceholders, placeholders } from './placeholders.ts';

/** Reports every name between double braces in a text that is neither a placeholder nor one of the families' blanks. */
export function checkPlaceholders(
  text: string,
  blanks: readonly string[],
  report: (message: string) => void,
): void {
  for (const name of listPlaceholders(text).filter((candidate) => !isPlaceholder(candidate, blanks))) {
    const known = [...Object.keys(placeholders), ...blanks];
    report(`uses {{${name}}}, which is not a placeholder; there are ${known.join(', ')}`);
  }
}

/** Reports unknown placeholders and cautions of one chart. */
export function checkTexts(chart: Chart, charts: Charts, report: Report): void {
  const cautions = new Set(charts.cautions.cautions.map((caution) => caution.id));
  const checkText = (state: string | null, path: (string | number)[], text: string) =>
    checkPlaceholders(text, charts.blanks, (message) => report(state, path, message));
  const checkCautions = (state: string | null, path: (string | number)[], ids: readonly string[]) => {
    for (const [index, id] of ids.entries()) {
      if (!cautions.has(id))
        report(state, [...path, index], `names the caution "${id}", which cautions.yaml has not`);
    }
  };
  checkText(null, ['wayOut', 'label'], chart.wayOut.label);
  if (chart.procedure !== null) {
    checkText(null, ['aim'], chart.procedure.aim);
    for (const key of ['title', 'done'] as const)
      for (const name of listPlaceholders(chart.procedure[key] ?? ''))
        if (name !== 'place' && !charts.blanks.includes(name))
          report(null, [key], `uses {{${name}}}; it can name only {{place}} and what families fill`);
    checkCautions(null, ['cautions'], chart.procedure.cautions);
  }
  for (const [name, state] of Object.entries(chart.states)) {
    if (!isPage(state)) continue;
    const at = ['states', name];
    for (const key of ['title', 'ask', 'why', 'plainly', 'onPaper'] as const)
      checkText(name, [...at, key], state[key] ?? '');
    checkCautions(name, [...at, 'cautions'], state.cautions);
    for (const [index, variant] of state.variants.entries()) {
      for (const key of ['title', 'ask', 'why', 'plainly'] as const)
        checkText(name, [...at, 'variants', index, key], variant[key] ?? '');
      checkCautions(name, [...at, 'variants', index, 'cautions'], variant.cautions ?? []);
    }
    for (const [index, choice] of state.choices.entries())
      checkText(name, [...at, 'choices', index, 'label'], choice.label);
  }
}
