/** Lets a file be dropped anywhere on a zone: it lands in the zone's own file field, to be sent by the form's own button. */
export function enhanceDropZones(root) {
  for (const zone of root.querySelectorAll('[data-drop-zone]')) {
    const input = zone.querySelector('input[type="file"]');
    if (input) acceptDrops(zone, input);
  }
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
