const PATIENCE_MS = 8000;

/** A second press of a button while the first is still on its way does nothing. */
export function guardDoubleSubmit(root) {
  const underWay = new WeakSet();
  root.addEventListener('submit', (event) => {
    const form = event.target;
    if (form.method === 'get' || event.defaultPrevented) return;
    if (underWay.has(form)) {
      event.preventDefault();
      return;
    }
    underWay.add(form);
    // An answer that never comes must not lock the form for good.
    setTimeout(() => underWay.delete(form), PATIENCE_MS);
  });
  // Coming back by the browser's history shows the page as it was left.
  window.addEventListener('pageshow', (event) => {
    if (event.persisted) window.location.reload();
  });
}
