import type { BolsterFacts, PressFacts, TappedHole } from '../../server/engineering/press-facts.js';
import { FIRST_LIMITS, type ShopRules } from '../../server/shop/rules.js';

/** Gullwing Yard, an invented makerspace. Nobody and nothing in it is real. */

const weekday = [{ opens: '10:00', closes: '21:00' }];

export const YARD_RULES: ShopRules = {
  ...FIRST_LIMITS,
  quotaHoursAMonth: 40,
  quotaHoursAhead: 20,
  makerspaceName: 'Gullwing Yard',
  timeZone: 'Europe/London',
  openingHours: {
    monday: weekday,
    tuesday: weekday,
    wednesday: weekday,
    thursday: weekday,
    friday: weekday,
    saturday: [{ opens: '10:00', closes: '18:00' }],
    sunday: [],
  },
};

export const YARD_PRESS: PressFacts = {
  clamp: {
    kind: 'hydraulic',
    minKn: 50,
    maxKn: 500,
    tieBarsWidthMm: 320,
    tieBarsHeightMm: 320,
    platensGuided: true,
    eccentricMomentNmm: null,
  },
  openingStrokeMm: 180,
  injection: {
    screwDiameterMm: 28,
    shotCm3: 60,
    maxPressureMpa: 160,
    maxFlowCm3PerS: 70,
    barrelShots: 2,
    nozzleOrificeMm: 2,
  },
  intensification: 10,
  platenThicknessMm: 80,
  dryCycleS: 10,
  chiller: { flowLPerMin: 10, waterC: 15 },
};

const holes: readonly TappedHole[] = [-80, -40, 0, 40, 80].flatMap((x) =>
  [-60, -20, 20, 60].map((y) => ({ at: { x, y }, thread: 'M6', depthMm: 15, positionMm: 0.05 })),
);

export const BOLSTER_1: BolsterFacts = {
  face: { widthMm: 200, heightMm: 160, centre: { x: 0, y: 0 } },
  faceMaterial: 'steel',
  allowableFacePressureMpa: 250,
  holes,
  faceOpenings: [],
  sprue: { lengthMm: 20, nozzleEndDiameterMm: 2.5, partingFaceDiameterMm: 3.5 },
  minimumDaylightMm: 12,
  largestStackMm: 60,
  halfThicknessMm: { moving: 60, fixed: 60 },
  halfMaterial: 'steel',
};

/** Without the hole at (80, 60): an unevenly drilled plate goes on one way only. */
export const KEYED_BOLSTER: BolsterFacts = {
  ...BOLSTER_1,
  holes: holes.filter(({ at }) => at.x !== 80 || at.y !== 60),
};

/** Everybody at the yard; the first three have the demo's password, the others cannot sign in. */
export const YARD_MEMBERS = [
  { key: 'wren', displayName: 'Wren', role: 'member', email: 'member@gullwing.example' },
  { key: 'odile', displayName: 'Odile', role: 'steward', email: 'steward@gullwing.example' },
  { key: 'maren', displayName: 'Maren', role: 'admin', email: 'admin@gullwing.example' },
  { key: 'kofi', displayName: 'Kofi', role: 'steward', email: 'kofi@gullwing.example' },
  { key: 'tamsin', displayName: 'Tamsin', role: 'member', email: 'tamsin@gullwing.example' },
  { key: 'bram', displayName: 'Bram', role: 'member', email: 'bram@gullwing.example' },
  { key: 'ishaan', displayName: 'Ishaan', role: 'member', email: 'ishaan@gullwing.example' },
  { key: 'nuria', displayName: 'Nuria', role: 'member', email: 'nuria@gullwing.example' },
  { key: 'jory', displayName: 'Jory', role: 'member', email: 'jory@gullwing.example' },
  { key: 'petra', displayName: 'Petra', role: 'member', email: 'petra@gullwing.example' },
  { key: 'aldo', displayName: 'Aldo', role: 'member', email: 'aldo@gullwing.example' },
  { key: 'sunniva', displayName: 'Sunniva', role: 'member', email: 'sunniva@gullwing.example' },
] as const;

export type YardMember = (typeof YARD_MEMBERS)[number]['key'];

export const YARD_PASSWORD = 'gullwing-yard-demo';
export const YARD_ACCOUNTS = YARD_MEMBERS.slice(0, 3);
