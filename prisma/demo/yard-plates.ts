import type { PlateFacts } from '../../server/engineering/press-facts.js';
import type { YardMember } from './gullwing-yard.js';

export interface YardPlate {
  readonly key: string;
  readonly owner: YardMember;
  readonly name: string;
  /** In `public/samples`, without its ending. */
  readonly drawing: string;
  readonly facts: PlateFacts;
  /** Nobody else where it is left out. */
  readonly sharing?: 'see' | 'run';
  readonly note?: string;
  /** What stands under its one photograph. */
  readonly photographed?: string;
  /** Its second revision; layers by their old names get new ones. */
  readonly revised?: {
    readonly note: string;
    readonly redrawn: { readonly [layer: string]: string };
    readonly facts: PlateFacts;
  };
  readonly retired?: true;
}

/** 16 mm stock on M6 × 20 screws sunk 7 mm: what most plates at the yard are made of. */
const USUAL: PlateFacts = {
  thicknessMm: 16,
  facingThicknessMm: 0,
  packerThicknessMm: 0,
  alloy: 'EN AW-6082-T6',
  partHeightMm: null,
  draftDeg: null,
  cutters: [],
  screw: { size: 'M6', lengthMm: 20, headSinkDepthMm: 7, headSinkDiameterMm: 11 },
  screwGroups: [],
};

/** Two of Wren's say stop, so that a refusal and its cures can be seen: one is too thin, one misses the holes. */
const THIN: PlateFacts = {
  ...USUAL,
  thicknessMm: 10,
  screw: { ...USUAL.screw, lengthMm: 12, headSinkDepthMm: 6.5 },
};

/** Cut with a tapered cutter of its own, and on two screws shorter than the others, in deeper sinks. */
const DRAFTED: PlateFacts = {
  ...USUAL,
  draftDeg: 1,
  cutters: [{ feature: 'cavity', form: 'tapered', diameterMm: 1.5, taperDeg: 1 }],
  screwGroups: [
    {
      holeDiameterMm: null,
      holes: [1, 2],
      screw: { size: 'M6', lengthMm: 16, headSinkDepthMm: 9, headSinkDiameterMm: 11 },
    },
  ],
};

export const YARD_PLATES: readonly YardPlate[] = [
  { key: 'off-grid', owner: 'wren', name: 'Tile spacer, first try', drawing: 'bolt-off-grid', facts: USUAL },
  { key: 'counter', owner: 'wren', name: 'Board counter, 8 up', drawing: 'board-counter-8up', facts: THIN },
  { key: 'label', owner: 'wren', name: 'Seed label, 2 up', drawing: 'seed-label-2up', facts: USUAL },
  { key: 'tile', owner: 'wren', name: 'Tile spacer, 4 up', drawing: 'tile-spacer-4up', facts: USUAL },
  {
    key: 'hive',
    owner: 'tamsin',
    name: 'Hive spacer',
    drawing: 'hive-spacer-inch',
    facts: USUAL,
    sharing: 'run',
  },
  { key: 'riser', owner: 'bram', name: 'Pot riser', drawing: 'pot-riser-blocks', facts: USUAL },
  { key: 'shim', owner: 'ishaan', name: 'Bike shim', drawing: 'bike-shim-r12', facts: USUAL },
  { key: 'clip', owner: 'nuria', name: 'Ruler clip', drawing: 'ruler-clip-rotated', facts: USUAL },
  { key: 'pull', owner: 'petra', name: 'Drawer pull', drawing: 'drawer-pull', facts: USUAL, sharing: 'see' },
  {
    key: 'cable',
    owner: 'wren',
    name: 'Cable clip',
    drawing: 'ruler-clip-rotated',
    facts: USUAL,
    sharing: 'see',
    note: 'Begun from the ruler clip, which had the right snap.',
    photographed: 'On the bench before its first trial. Drawn for this example: nothing in it is real.',
    revised: {
      note: 'Too thin at the root: the body is four tenths deeper, the gates wider, the walls have draft.',
      redrawn: { 'CAVITY 3': 'CAVITY 3.4', 'GATE 0.9 W2': 'GATE 0.9 W2.5' },
      facts: DRAFTED,
    },
  },
  {
    key: 'old-label',
    owner: 'wren',
    name: 'Seed label, thin',
    drawing: 'seed-label-2up',
    facts: THIN,
    note: 'From an offcut, before anybody told me of the minimum daylight.',
    retired: true,
  },
  { key: 'token', owner: 'jory', name: 'Tiny token', drawing: 'tiny-token', facts: USUAL },
];
