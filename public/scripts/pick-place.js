const NAMESPACE = 'http://www.w3.org/2000/svg';

/** A place picked on a drawing goes into the form's two figures, from which it could as well be typed. */
export function pickPlaces(root) {
  for (const figure of root.querySelectorAll('[data-pick-place]')) {
    const drawing = figure.querySelector('svg');
    const [x, y] = ['xMm', 'yMm'].map((id) => root.getElementById(id));
    if (drawing && x && y) pickOn(drawing, x, y);
  }
}

function pickOn(drawing, x, y) {
  drawing.classList.add('ps-picked-on');
  drawing.addEventListener('click', (event) => {
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(drawing.getScreenCTM().inverse());
    // A drawing counts down, people up.
    x.value = written(at.x);
    y.value = written(-at.y);
    mark(drawing, x, y);
  });
  for (const field of [x, y]) field.addEventListener('input', () => mark(drawing, x, y));
  mark(drawing, x, y);
}

/** Half a millimetre is as fine as a finger points. */
function written(mm) {
  return String(Math.round(mm * 2) / 2 + 0).replace('-', '−');
}

/** A cross where the figures are, none while they are no figures. */
function mark(drawing, x, y) {
  const [atX, atY] = [x, y].map((field) =>
    field.value.trim() === '' ? Number.NaN : Number(field.value.replace('−', '-').replace(',', '.')),
  );
  const cross = drawing.querySelector('[data-picked]') ?? drawing.appendChild(newCross());
  const isPlace = Number.isFinite(atX) && Number.isFinite(atY);
  const arm = Number(drawing.getAttribute('font-size') ?? 6);
  const d = isPlace ? `M${atX - arm} ${-atY}h${2 * arm}M${atX} ${-atY - arm}v${2 * arm}` : '';
  cross.setAttribute('d', d);
}

function newCross() {
  const cross = document.createElementNS(NAMESPACE, 'path');
  cross.setAttribute('class', 'ps-picked');
  cross.setAttribute('data-picked', '');
  return cross;
}
