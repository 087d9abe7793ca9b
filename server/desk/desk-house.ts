import type { Actor } from '../context.js';
import type { House } from '../http/house.js';
import { refusalUnless } from '../members/permissions.js';
import type { Refusal } from '../reasons.js';
import type { DeskQueue } from './waiting.js';

export interface DeskHouse extends House {
  /** What every room has for the desk; a room that comes later adds its own. */
  readonly queues: readonly DeskQueue[];
}

/** For whom there is no desk, there is none to see. */
export function noDeskFor(actor: Actor): Refusal | undefined {
  return refusalUnless(actor, 'desk-see', {}, { by: 'desk-see', what: 'desk' });
}
