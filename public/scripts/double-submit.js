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
  });
  // Coming back by the browser's history shows the page as it was left.
  window.addEventListener('pageshow', (event) => {
    if (event.persisted) window.location.reload();
  });
}
