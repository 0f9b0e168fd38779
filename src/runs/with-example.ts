/** The use cases of runs, with an example run beside the real ones: `example-0`, `example-1` … are its pages. */
import type { Content } from '../content/index.ts';
import { Problem } from '../problems.ts';
import { openRun } from './book.ts';
import { createRuns, type RunsParts } from './create-runs.ts';
import { createExampleStore, type ExamplePage, listExamplePages } from './example-store.ts';
import { type ExampleStory, exampleStory } from './example-story.ts';
import { walkExample } from './example-walk.ts';
import type { Runs } from './runs.ts';
import type { RunView } from './view.ts';

type Example = { readonly runs: Runs; readonly pages: readonly ExamplePage[] };

/** The page of the example that an id names, from 0; null for the id of a real run, which has no l in it. */
function pageNumber(id: string): number | null {
  const found = /^example(\d{0,3})$/.exec(id.toLowerCase().replaceAll('-', ''));
  return found === null ? null : Number(found[1] ?? 0);
}

/**
 * Real runs, and the example. The example is walked when somebody first asks for it, is kept in memory, and is never
 * written anywhere: whatever would change it is refused with Problem `example-only`.
 *
 * @param runs the real runs
 * @param parts what the real runs were made with
 */
export function withExample(runs: Runs, parts: RunsParts, story: ExampleStory = exampleStory): Runs {
  let kept: Promise<Example> | undefined;
  const find = async (id: string): Promise<{ example: Example; page: number } | null> => {
    const page = pageNumber(id);
    if (page === null) return null;
    kept ??= makeExample(parts.editions.current, parts, story);
    const example = await kept;
    if (page >= example.pages.length) {
      throw new Problem('unknown-run', `The example has the pages 0 to ${example.pages.length - 1}.`);
    }
    return { example, page };
  };
  const pass =
    <Rest extends unknown[], Result>(pick: (from: Runs) => (id: string, ...rest: Rest) => Promise<Result>) =>
    async (id: string, ...rest: Rest): Promise<Result> => {
      const found = await find(id);
      return found === null ? pick(runs)(id, ...rest) : pick(found.example.runs)(nameOf(found.page), ...rest);
    };
  return {
    open: runs.open,
    async view(id) {
      const found = await find(id);
      if (found === null) return runs.view(id);
      const { example, page } = found;
      return asExample(await example.runs.view(nameOf(page)), page, example.pages, story);
    },
    answer: pass((from) => from.answer),
    undo: pass((from) => from.undo),
    earlierStep: pass((from) => from.earlierStep),
    change: pass((from) => from.change),
    outcome: pass((from) => from.outcome),
    why: pass((from) => from.why),
  };
}

const nameOf = (page: number): string => `example-${page}`;

async function makeExample(content: Content, parts: RunsParts, story: ExampleStory): Promise<Example> {
  const { instrument, person } = story.opening;
  const walk = await walkExample(openRun(content, instrument, person, parts.staves), story);
  const pages = listExamplePages(walk);
  const openedAt = parts.now().toISOString();
  const store = createExampleStore(walk, (id) => pages[pageNumber(id) ?? pages.length]?.revision ?? null, {
    instrument,
    person,
    edition: content.edition,
    openedAt,
  });
  return { runs: createRuns({ ...parts, store }), pages };
}

/** The view of a page of the example: it says so, leads on and back, and offers no changes. */
function asExample(
  view: RunView,
  page: number,
  pages: readonly ExamplePage[],
  { invented }: ExampleStory,
): RunView {
  return {
    ...view,
    conversation: view.conversation.map((turn) => ({ ...turn, canChange: false })),
    example: {
      page: page + 1,
      pages: pages.length,
      invented,
      answered: pages[page]?.answer ?? null,
      previous: page === 0 ? null : nameOf(page - 1),
      next: page === pages.length - 1 ? null : nameOf(page + 1),
    },
  };
}
