const PAUSE_MS = 500;

/** A form that draws what it says is asked for the drawing again after each change, and only that is put in its place. */
export function redrawWhileTyping(root) {
  for (const form of root.querySelectorAll('form[data-redraw]')) watch(form);
}

function watch(form) {
  let timer;
  let asked = 0;
  form.addEventListener('input', (event) => {
    if (event.target.type === 'file') return;
    clearTimeout(timer);
    timer = setTimeout(() => {
      asked += 1;
      redraw(form, () => asked, asked);
    }, PAUSE_MS);
  });
}

async function redraw(form, latest, mine) {
  const fields = new FormData(form);
  for (const [name, value] of [...fields]) if (value instanceof File) fields.delete(name);
  fields.set('do', 'draw');
  try {
    const answer = await fetch(form.action, { method: 'POST', body: fields });
    const page = new DOMParser().parseFromString(await answer.text(), 'text/html');
    const drawn = page.querySelector('[data-redrawn]');
    // An answer that somebody has typed past is left alone.
    if (drawn && latest() === mine) form.querySelector('[data-redrawn]').replaceChildren(...drawn.childNodes);
  } catch {
    // Without an answer the last drawing stays; the button asks again.
  }
}
