/** Brings whoever listens or uses the keyboard to what must be put right, and its links to their controls. */
export function focusErrorSummary(root) {
  const summary = root.querySelector('[data-error-summary]');
  if (!summary) return;
  summary.focus();
  summary.addEventListener('click', (event) => {
    const link = event.target.closest('a[href^="#"]');
    const control = link && root.getElementById(link.hash.slice(1));
    if (!control) return;
    event.preventDefault();
    control.closest('.ps-cell, .ps-drop')?.scrollIntoView({ block: 'start' });
    control.focus({ preventScroll: true });
  });
}
