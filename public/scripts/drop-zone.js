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
    const file = input.files[0];
    if (!file) return;
    const mostMib = Number(input.dataset.mostMib);
    const tooLarge = file.size > mostMib * MIB;
    const sizeMib = (file.size / MIB).toFixed(1);
    input.setCustomValidity(tooLarge ? `The file has ${sizeMib} MiB; at most ${mostMib} MiB are read.` : '');
    if (name) name.textContent = file.name;
    if (found) found.textContent = tooLarge ? input.validationMessage : 'Chosen, not read yet.';
    if (tooLarge) input.reportValidity();
  });
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
    const file = event.dataTransfer.files[0];
    if (!file) return;
    kept.items.add(file);
    input.files = kept.files;
    input.dispatchEvent(new Event('change', { bubbles: true }));
    input.focus();
  });
}
