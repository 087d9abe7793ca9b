/** Lets a file be dropped anywhere on a zone: it lands in the zone's own file field, to be sent by the form's own button. */
export function enhanceDropZones(root) {
  for (const zone of root.querySelectorAll('[data-drop-zone]')) {
    const input = zone.querySelector('input[type="file"]');
    if (!input) continue;
    acceptDrops(zone, input);
    sayWhatIsChosen(zone, input);
  }
}

const MIB = 1024 * 1024;

/** The zone names the file that waits for the form's button, and says at once of one that is too large. */
function sayWhatIsChosen(zone, input) {
  const name = zone.querySelector('.ps-drop__file');
  const found = zone.querySelector('.ps-drop__found');
  input.addEventListener('change', () => {
    const files = [...input.files];
    if (files.length === 0) return;
    const wrong = whatIsWrong(files, input.dataset);
    input.setCustomValidity(wrong);
    if (name) name.textContent = files.map((file) => file.name).join(', ');
    if (found) found.textContent = wrong === '' ? 'Chosen, not read yet.' : wrong;
    if (wrong !== '') input.reportValidity();
  });
}

/** Why what is chosen will not be read, or nothing. */
function whatIsWrong(files, { mostMib, mostFiles = '1' }) {
  if (files.length > Number(mostFiles))
    return `These are ${files.length} files; at most ${mostFiles} are read at once.`;
  const large = files.find((file) => file.size > Number(mostMib) * MIB);
  if (!large) return '';
  return `The file ${large.name} has ${(large.size / MIB).toFixed(1)} MiB; at most ${mostMib} MiB are read.`;
}

function acceptDrops(zone, input) {
  const hasFiles = (event) => event.dataTransfer?.types.includes('Files');
  const mark = (over) => zone.classList.toggle('ps-drop--over', over);
  zone.addEventListener('dragover', (event) => {
    if (!hasFiles(event)) return;
    event.preventDefault();
    mark(true);
  });
  zone.addEventListener('dragleave', (event) => {
    if (!zone.contains(event.relatedTarget)) mark(false);
  });
  zone.addEventListener('drop', (event) => {
    if (!hasFiles(event)) return;
    event.preventDefault();
    mark(false);
    const kept = new DataTransfer();
    const dropped = [...event.dataTransfer.files];
    for (const file of input.multiple ? dropped : dropped.slice(0, 1)) kept.items.add(file);
    if (kept.files.length === 0) return;
    input.files = kept.files;
    input.dispatchEvent(new Event('change', { bubbles: true }));
    input.focus();
  });
}
