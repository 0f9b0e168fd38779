/** How refusals look in the OpenAPI document. */
import { ProblemDocument } from '../problem-document.ts';

const content = { 'application/problem+json': { schema: ProblemDocument } };

/** The refusals that any route of the API may answer with. */
export const refusals = {
  '4xx': {
    description: 'Something does not fit; the document says which field and what would be right',
    content,
  },
  '5xx': { description: 'The server cannot do it just now', content },
};
