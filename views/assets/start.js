// Start page: remembers in this browser alone what was chosen last, so that the next start is one tap.
// Without this script, or where the browser keeps nothing, the page is the same and nothing is chosen.

const place = 'quarter-turn.last-start';

const form = document.getElementById('start-form');
if (form instanceof HTMLFormElement) {
  const last = readLast();
  if (last !== null && form.dataset.untouched === 'yes' && choose(form, last)) offerAgain(last);
  form.addEventListener('submit', () => keep(form));
}

/** @returns {{ instrument: string, person: string, tools: string[] } | null} what was chosen last, or null */
function readLast() {
  try {
    const { instrument, person, tools } = JSON.parse(localStorage.getItem(place) ?? 'null') ?? {};
    const isWhole = typeof instrument === 'string' && typeof person === 'string' && Array.isArray(tools);
    return isWhole ? { instrument, person, tools: tools.map(String) } : null;
  } catch {
    return null;
  }
}

/** @param {HTMLFormElement} form as it is sent */
function keep(form) {
  const fields = new FormData(form);
  const last = {
    instrument: fields.get('instrument'),
    person: fields.get('person'),
    tools: fields.getAll('tools'),
  };
  try {
    localStorage.setItem(place, JSON.stringify(last));
  } catch {
    // A browser that keeps nothing asks again next time.
  }
}

/**
 * Chooses what was chosen last, if the page still offers it.
 * @param {HTMLFormElement} form
 * @param {{ instrument: string, person: string, tools: string[] }} last
 * @returns whether instrument and person are chosen now
 */
function choose(form, last) {
  const wanted = new Map([
    ['instrument', [last.instrument]],
    ['person', [last.person]],
    ['tools', last.tools],
  ]);
  const inputs = [...form.querySelectorAll('input')];
  const isOffered = (/** @type {string} */ name) =>
    inputs.some((input) => input.name === name && wanted.get(name)?.includes(input.value));
  if (!isOffered('instrument') || !isOffered('person')) return false;
  for (const input of inputs) {
    const values = wanted.get(input.name);
    if (values === undefined) continue;
    input.checked = values.includes(input.value);
    const family = input.closest('details');
    if (input.checked && family !== null) family.open = true;
  }
  return true;
}

/** Shows the button that starts again as last time. @param {{ instrument: string, person: string }} last */
function offerAgain({ instrument, person }) {
  const again = document.getElementById('again');
  const words = document.getElementById('again-words');
  if (again === null || words === null) return;
  words.textContent = [`instrument-${instrument}`, `person-${person}`]
    .map((id) => document.querySelector(`label:has(#${CSS.escape(id)}) b`)?.textContent ?? '')
    .join(', ');
  again.hidden = false;
}
