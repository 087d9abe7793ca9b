import { may } from '../../members/permissions.js';
import { type CheckFormValues, checkForm } from '../check-page-form.js';
import { carriedWith, type PlateFormErrors, valuesOfFacts } from '../plate-form.js';
import { isRetired } from '../retire-plate.js';
import type { DrawingFile } from '../uploaded-drawing.js';
import type { PlateOnView } from './plate-on-view.js';

/** The form for the next revision as it was sent and refused. */
export interface RevisionTried {
  readonly values: CheckFormValues;
  readonly note: string;
  /** Chosen for it; stays with the form. */
  readonly drawing: DrawingFile | undefined;
}

/** The form for the next revision, for the owner. Data of `plate-new-revision.hbs`. */
export async function newRevisionSection(
  { actor, plate, revision, polymer }: PlateOnView,
  tried: RevisionTried | undefined,
  errors: PlateFormErrors,
) {
  if (!may(actor, 'plate-revise', plate) || isRetired(plate)) return undefined;
  const form = checkForm({
    values: tried?.values ?? valuesOfFacts(revision.facts, polymer, ''),
    bolsters: [],
    errors,
    read: null,
    ...(await carriedWith(tried?.drawing)),
  });
  return {
    plateId: plate.id,
    form,
    note: tried?.note ?? '',
    ...(errors.note !== undefined && { noteError: errors.note }),
    cells: form.cells.filter(({ name }) => name !== 'polymer' && name !== 'bolsterId'),
  };
}
