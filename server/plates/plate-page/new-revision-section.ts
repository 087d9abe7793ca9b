import { may } from '../../members/permissions.js';
import { stackParts } from '../../press/stack-parts/store.js';
import { STOCK_WORDS, stackPartText } from '../../words/en/plates.js';
import { type CheckFormValues, checkForm } from '../check-page-form.js';
import type { PartsNamed } from '../facts-with-parts.js';
import { carriedWith, type PlateFormErrors, valuesOfFacts } from '../plate-form.js';
import { isRetired } from '../retire-plate.js';
import type { DrawingFile } from '../uploaded-drawing.js';
import type { PlateOnView } from './plate-on-view.js';

/** The form for the next revision as it was sent and refused. */
export interface RevisionTried {
  readonly values: CheckFormValues;
  readonly note: string;
  readonly parts: PartsNamed;
  /** Chosen for it; stays with the form. */
  readonly drawing: DrawingFile | undefined;
}

/** The form for the next revision, for the owner. Data of `plate-new-revision.hbs`. */
export async function newRevisionSection(
  { actor, house, plate, revision, polymer }: PlateOnView,
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
    stock: await stockCells(house, tried?.parts ?? revision.facts),
  };
}

/** One facing plate and one packer to choose from the rack; several packers are named over the API. */
async function stockCells({ database }: PlateOnView['house'], named: PartsNamed) {
  const parts = (await stackParts(database)).filter(({ state }) => state === 'in-service');
  const cell = (kind: 'facing' | 'packer', name: string, picked: string) => ({
    id: name,
    name,
    label: STOCK_WORDS[kind],
    options: [
      { value: '', text: STOCK_WORDS.none, selected: picked === '' },
      ...parts
        .filter((part) => part.kind === kind)
        .map((part) => ({ value: part.id, text: stackPartText(part), selected: part.id === picked })),
    ],
  });
  return [
    cell('facing', 'facingPartId', named.facingPartId ?? ''),
    cell('packer', 'packerPartId', named.packerPartIds[0] ?? ''),
  ];
}
