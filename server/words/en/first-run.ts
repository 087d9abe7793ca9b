/** One cell of the founding form; `name` is the field it fills. */
export interface CellWords {
  readonly name: string;
  readonly label: string;
  readonly hint?: string;
  readonly unit?: string;
  readonly type?: 'email' | 'password';
  readonly autocomplete?: string;
  readonly size?: 'narrow' | 'wide' | 'full';
  readonly choices?: readonly { readonly value: string; readonly text: string }[];
  readonly numeric?: boolean;
  /** What stands there at first. */
  readonly first?: string;
}

export interface SectionWords {
  readonly id: string;
  readonly heading: string;
  readonly note: string;
  readonly cells: readonly CellWords[];
}

const day = (name: string, label: string): CellWords => ({ name, label, first: '9-22' });
const figure = (name: string, label: string, unit: string, hint?: string): CellWords => ({
  name,
  label,
  unit,
  numeric: true,
  ...(hint !== undefined && { hint }),
});
const same = (...values: readonly string[]) => values.map((value) => ({ value, text: value }));

/** The founding form, section by section. Machine figures have no first value: they are read off the machine. */
export const FIRST_RUN_SECTIONS: readonly SectionWords[] = [
  {
    id: 'you',
    heading: 'You, the first admin',
    note: 'you can add others afterwards',
    cells: [
      { name: 'email', label: 'E-mail address', type: 'email', autocomplete: 'username', size: 'wide' },
      { name: 'displayName', label: 'Name that others see', autocomplete: 'nickname', size: 'wide' },
      {
        name: 'password',
        label: 'Password',
        type: 'password',
        autocomplete: 'new-password',
        size: 'wide',
        hint: 'At least 15 characters; a few unrelated words do well.',
      },
    ],
  },
  {
    id: 'shop',
    heading: 'The makerspace',
    note: 'opening hours on its own clock; empty means closed',
    cells: [
      { name: 'makerspaceName', label: 'Name', autocomplete: 'organization', size: 'wide' },
      { name: 'timeZone', label: 'Time zone', hint: 'Such as Europe/Dublin', size: 'wide' },
      day('monday', 'Monday'),
      day('tuesday', 'Tuesday'),
      day('wednesday', 'Wednesday'),
      day('thursday', 'Thursday'),
      day('friday', 'Friday'),
      day('saturday', 'Saturday'),
      day('sunday', 'Sunday'),
    ],
  },
  {
    id: 'press',
    heading: 'The press',
    note: 'from its plate and manual',
    cells: [
      { name: 'pressName', label: 'Name of the press', size: 'wide' },
      {
        name: 'clampKind',
        label: 'Clamp',
        choices: [
          { value: 'hydraulic', text: 'Hydraulic' },
          { value: 'toggle', text: 'Toggle' },
        ],
      },
      figure('clampMinKn', 'Least force that can be set', 'kN'),
      figure('clampMaxKn', 'Highest clamp force', 'kN'),
      figure('tieBarsWidthMm', 'Between tie bars, across', 'mm'),
      figure('tieBarsHeightMm', 'Between tie bars, upright', 'mm'),
      {
        name: 'platensGuided',
        label: 'Platens guided on the bars',
        choices: [
          { value: '', text: 'No, or not known' },
          { value: 'yes', text: 'Yes' },
        ],
      },
      figure('openingStrokeMm', 'Opening stroke', 'mm', 'With the thinnest stack'),
      figure('screwDiameterMm', 'Screw diameter', 'mm'),
      figure('shotCm3', 'Rated shot', 'cm³'),
      figure('maxPressureMpa', 'Highest pressure on the melt', 'MPa'),
      figure('maxFlowCm3PerS', 'Highest injection rate', 'cm³/s'),
      figure('barrelShots', 'Barrel holds', 'shots', 'Full shots of melt'),
      figure('nozzleOrificeMm', 'Nozzle orifice', 'mm'),
    ],
  },
  {
    id: 'bolster',
    heading: 'The bolster that is mounted',
    note: 'seen on the moving half, centred on the sprue',
    cells: [
      { name: 'bolsterName', label: 'Name of the bolster', size: 'wide' },
      figure('faceWidthMm', 'Face, across', 'mm'),
      figure('faceHeightMm', 'Face, upright', 'mm'),
      { name: 'faceMaterial', label: 'Face of', choices: same('steel', 'EN AW-6082-T6', 'EN AW-7075-T6') },
      figure('allowableFacePressureMpa', 'Allowable face pressure', 'MPa'),
      {
        name: 'thread',
        label: 'Thread of its holes',
        choices: same('M4', 'M5', 'M6', 'M8', 'M10', 'M12'),
        first: 'M6',
      },
      figure('holeColumns', 'Columns of holes', ''),
      figure('holeRows', 'Rows of holes', ''),
      figure('pitchXMm', 'Pitch across', 'mm'),
      figure('pitchYMm', 'Pitch upright', 'mm'),
      figure('holeDepthMm', 'Tapped depth', 'mm'),
      figure('holePositionMm', 'Hole position within', 'mm', 'As a radius'),
      figure('sprueLengthMm', 'Sprue length', 'mm'),
      figure('sprueNozzleEndMm', 'Sprue at the nozzle', 'mm', 'Diameter'),
      figure('spruePartingFaceMm', 'Sprue at the parting face', 'mm', 'Diameter'),
      figure('minimumDaylightMm', 'Minimum daylight', 'mm', 'Closer than this the faces cannot come'),
      figure('largestStackMm', 'Largest stack', 'mm'),
    ],
  },
];

/** What the first admin declares, there being nobody who could have watched. */
export const FOUNDING_DECLARATION = {
  text: 'I am eighteen or older, and I can run this press, change plates, dry and granulate safely, and show others how',
  more: 'as its manual, the local codes and the cautions of this service have it',
} as const;
