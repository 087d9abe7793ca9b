import { may } from '../../members/permissions.js';
import type { PlateOnView } from './plate-on-view.js';

/** The form for another name, for the owner. Data of `plate-name.hbs`. */
export function nameSection({ actor, plate }: PlateOnView, wished: string | undefined, error?: string) {
  if (!may(actor, 'plate-revise', plate)) return undefined;
  return { plateId: plate.id, name: wished ?? plate.name, ...(error !== undefined && { error }) };
}
