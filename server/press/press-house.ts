import type { Actor } from '../context.js';
import type { BolsterDrawing } from '../engineering/drawing/read-bolster-drawing.js';
import type { BolsterFacts, PressFacts } from '../engineering/press-facts.js';
import type { Asker } from '../http/asker.js';
import type { House } from '../http/house.js';
import type { Refusal } from '../reasons.js';
import type { Foreseen } from '../shop/foreseen.js';

/** What plates would be checked against; what is left out stays as it is. */
export interface GroundProposed {
  readonly press?: PressFacts;
  /** Another version of a bolster; it bears on nothing while that bolster is not the mounted one. */
  readonly bolster?: { readonly id: string; readonly facts: BolsterFacts };
  readonly mountBolsterId?: string;
}

/** Damage to a bolster's face that nobody has closed, as the room of plates keeps it. */
export interface BolsterDamage {
  readonly id: string;
  readonly half: 'moving' | 'fixed' | null;
  /** From the sprue axis, to the right and up. */
  readonly xMm: number;
  readonly yMm: number;
  readonly what: string;
  readonly reportedByName: string;
  readonly reportedAt: Date;
}

/** What the press's room asks of later rooms, which it does not know. */
export interface PressHouse extends House {
  /** What a change of press or bolster would do to what stands; computed outside any transaction. */
  readonly foreseeGround: (proposed: GroundProposed, actor: Actor) => Promise<Foreseen>;
  /** What is open of a bolster, oldest first. */
  readonly openDamage: (bolsterId: string) => Promise<readonly BolsterDamage[]>;
  /** Reads the drawing of a bolster's face off the request thread, within time and memory. */
  readonly readBolster: (dxf: Uint8Array, asker: Asker) => Promise<BolsterDrawing | Refusal>;
}
