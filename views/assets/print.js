// Bench ticket: a button that opens the print dialogue. Without this script the page says how to print.

const button = document.getElementById('print');
if (button !== null) {
  button.hidden = false;
  button.addEventListener('click', () => print());
  document.getElementById('print-hint')?.remove();
}
