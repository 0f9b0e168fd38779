// Play-test page: takes an answer without loading the page anew. The page does the same without this script.

/** Taps wait for one another, because each answer belongs to the revision that the one before it made. */
let queue = Promise.resolve();
/** Once something is not as expected, the form is left to the browser. */
let isGivenUp = false;

const form = document.getElementById('notes');
if (form instanceof HTMLFormElement) {
  form.addEventListener('submit', (event) => {
    const button = event.submitter;
    if (isGivenUp || !(button instanceof HTMLButtonElement) || button.name !== 'note') return;
    event.preventDefault();
    const row = button.closest('.note');
    if (row === null) return;
    row.classList.add('is-sending');
    queue = queue.then(() => send(form, button, row.id)).catch(() => giveUp(form, button));
  });
}

/**
 * Sends one answer and shows what the server made of it.
 * @param {HTMLFormElement} form
 * @param {HTMLButtonElement} button the answer tapped
 * @param {string} id of the note's row
 */
async function send(form, button, id) {
  const fields = new URLSearchParams();
  for (const [name, value] of new FormData(form)) fields.append(name, String(value));
  fields.set(button.name, button.value);
  const response = await fetch(form.action, {
    method: 'POST',
    body: fields,
    headers: { accept: 'text/html' },
  });
  const page = new DOMParser().parseFromString(await response.text(), 'text/html');
  if (!response.ok || page.getElementById(id) === null) {
    showWhole(page);
    return;
  }
  for (const part of [id, 'notes-state', 'notes-count', 'enough', 'last', 'so-far']) renew(part, page);
  goOn(id, button.value.endsWith(' wrong'));
}

/**
 * The run has moved on or the answer was refused: shows the page that says so, as without a script.
 * @param {Document} page
 */
function showWhole(page) {
  isGivenUp = true;
  document.title = page.title;
  document.body.replaceWith(page.body);
  scrollTo(0, 0);
  const notice = document.querySelector('[autofocus]');
  if (notice instanceof HTMLElement) notice.focus();
}

/**
 * The answer could not be sent: lets the browser try, which says what is wrong.
 * @param {HTMLFormElement} form
 * @param {HTMLButtonElement} button
 */
function giveUp(form, button) {
  isGivenUp = true;
  form.requestSubmit(button.isConnected ? button : undefined);
}

/**
 * Puts an element of the new page in the place of the old one.
 * @param {string} id
 * @param {Document} page
 */
function renew(id, page) {
  const fresh = page.getElementById(id);
  if (fresh !== null) document.getElementById(id)?.replaceWith(fresh);
}

/**
 * Moves to the next note of the group without an answer, or to the group's end; stays where the row asks on.
 * @param {string} id of the row just answered
 * @param {boolean} asksOn
 */
function goOn(id, asksOn) {
  const row = document.getElementById(id);
  if (row === null) return;
  const group = row.closest('.note-group');
  const rows = [...(group?.querySelectorAll('.note') ?? [])];
  const isWaiting = (/** @type {Element} */ each) => !each.classList.contains('is-answered');
  const after = rows.indexOf(row) + 1;
  const end = document.getElementById(group?.classList.contains('further') ? 'done' : 'enough');
  const next = rows.slice(after).find(isWaiting) ?? rows.find(isWaiting) ?? end;
  const target = asksOn ? row : next;
  const isCalm = matchMedia('(prefers-reduced-motion: reduce)').matches;
  target?.scrollIntoView({ behavior: isCalm ? 'auto' : 'smooth', block: asksOn ? 'nearest' : 'start' });
  const heading = target?.querySelector('h3, button, a');
  if (heading instanceof HTMLElement) heading.focus({ preventScroll: true });
}
