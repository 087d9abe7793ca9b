import type { Queryable } from '../../server/database/queryable.js';
import { addBolster, addPress } from '../../server/press/add.js';
import { FIRST_LIMITS, type ShopRules } from '../../server/shop/rules.js';
import { demoBolster, demoPress, keyedBolster } from './gullwing.js';

const weekday = [{ opens: '09:00', closes: '22:00' }];
const weekend = [{ opens: '10:00', closes: '18:00' }];

/** Gullwing Yard's shop rules: open every day, in its own time zone. */
export const gullwingRules: ShopRules = {
  ...FIRST_LIMITS,
  makerspaceName: 'Gullwing Yard',
  timeZone: 'Europe/Dublin',
  openingHours: {
    monday: weekday,
    tuesday: weekday,
    wednesday: weekday,
    thursday: weekday,
    friday: weekday,
    saturday: weekend,
    sunday: weekend,
  },
};

export interface GullwingPress {
  readonly pressId: string;
  /** Mounted. */
  readonly bolsterId: string;
  readonly keyedBolsterId: string;
}

/** Puts Gullwing Yard's press into a database, with its two bolsters, the plain one mounted. */
export async function furnishPress(db: Queryable, at: Date): Promise<GullwingPress> {
  const pressId = await addPress(db, { name: 'Press', facts: demoPress, at });
  const bolsterId = await addBolster(db, { pressId, name: 'Grid', mounted: true, facts: demoBolster, at });
  const keyedBolsterId = await addBolster(db, {
    pressId,
    name: 'Keyed',
    mounted: false,
    facts: keyedBolster,
    at,
  });
  return { pressId, bolsterId, keyedBolsterId };
}
