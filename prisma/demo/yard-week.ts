import type { ShopRules } from '../../server/shop/rules.js';

/** One booking of the pattern: who with which plate, in what, from when to when on the wall clock. */
export interface YardBooking {
  readonly plate: string;
  readonly polymer: string;
  readonly from: string;
  readonly to: string;
  readonly shots: number;
  /** Production where it is left out. */
  readonly kind?: 'trial' | 'production';
}

/**
 * Bookings by day, counted from the seeding: 0 is today. Days on which the yard is closed are left out, and what
 * would run past closing too. There is room between them: the demo is for booking in it.
 */
export const YARD_WEEKS: { readonly [day: number]: readonly YardBooking[] } = {
  [-7]: [
    { plate: 'hive', polymer: 'PP', from: '10:00', to: '12:30', shots: 80 },
    { plate: 'tile', polymer: 'PP', from: '14:00', to: '17:30', shots: 110 },
  ],
  [-6]: [{ plate: 'riser', polymer: 'HDPE', from: '11:00', to: '15:00', shots: 90 }],
  [-5]: [
    { plate: 'clip', polymer: 'PP', from: '10:15', to: '13:00', shots: 70 },
    { plate: 'shim', polymer: 'HDPE', from: '15:00', to: '17:45', shots: 60 },
  ],
  [-4]: [{ plate: 'pull', polymer: 'PP', from: '12:00', to: '14:00', shots: 20, kind: 'trial' }],
  [-3]: [{ plate: 'hive', polymer: 'PP', from: '10:00', to: '13:30', shots: 120 }],
  [-2]: [
    { plate: 'label', polymer: 'PP', from: '10:30', to: '13:15', shots: 90 },
    { plate: 'riser', polymer: 'HDPE', from: '14:30', to: '17:30', shots: 70 },
  ],
  [-1]: [{ plate: 'clip', polymer: 'PP', from: '11:30', to: '14:30', shots: 80 }],
  0: [
    { plate: 'hive', polymer: 'PP', from: '10:00', to: '12:15', shots: 60 },
    { plate: 'tile', polymer: 'PP', from: '12:30', to: '16:30', shots: 130 },
    { plate: 'riser', polymer: 'HDPE', from: '18:15', to: '20:45', shots: 60 },
  ],
  1: [
    { plate: 'shim', polymer: 'HDPE', from: '10:00', to: '12:45', shots: 70 },
    { plate: 'hive', polymer: 'PP', from: '18:30', to: '20:45', shots: 50 },
  ],
  2: [{ plate: 'clip', polymer: 'PP', from: '14:45', to: '17:00', shots: 60 }],
  3: [{ plate: 'riser', polymer: 'HDPE', from: '10:00', to: '12:00', shots: 50 }],
  4: [{ plate: 'pull', polymer: 'PP', from: '16:00', to: '17:45', shots: 20, kind: 'trial' }],
  6: [
    { plate: 'label', polymer: 'PP', from: '10:30', to: '14:15', shots: 120 },
    { plate: 'shim', polymer: 'HDPE', from: '15:00', to: '17:45', shots: 70 },
  ],
  7: [{ plate: 'clip', polymer: 'PP', from: '13:00', to: '16:00', shots: 90 }],
};

/** The granulator is out of service tomorrow at noon, and one day the yard is closed for its stocktake. */
export const INSPECTION = { day: 1, from: '12:00', to: '14:00', note: 'inspection' } as const;
export const STOCKTAKE = { day: 5, note: 'stocktake' } as const;

const WITH_BREAK = [
  { opens: '10:00', closes: '14:00' },
  { opens: '15:00', closes: '21:00' },
];

/** From this day on the yard has a break after lunch. */
export const BREAK_FROM_DAY = 6;
export const HOURS_WITH_BREAK: ShopRules['openingHours'] = {
  monday: WITH_BREAK,
  tuesday: WITH_BREAK,
  wednesday: WITH_BREAK,
  thursday: WITH_BREAK,
  friday: WITH_BREAK,
  saturday: [
    { opens: '10:00', closes: '14:00' },
    { opens: '15:00', closes: '18:00' },
  ],
  sunday: [],
};

export const INVITED = { email: 'lowri@gullwing.example', displayName: 'Lowri', role: 'member' } as const;
