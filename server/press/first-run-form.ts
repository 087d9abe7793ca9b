import { z } from 'zod';
import type { BolsterFacts, PressFacts, TappedHole } from '../engineering/press-facts.js';
import { type FieldErrors, type ReadForm, readForm } from '../http/form.js';
import { quantity, wholeQuantity } from '../http/quantity.js';
import { exactText, text } from '../http/text.js';
import { passwordFault } from '../members/password-rules.js';
import { PASSWORD_LENGTH_MAX } from '../members/schemas.js';
import { FIRST_LIMITS, isTimeZone, type ShopRules, WEEKDAYS } from '../shop/rules.js';
import { writtenDay } from '../shop/written-hours.js';
import { passwordFaultText } from '../words/en/passwords.js';

const EMAIL = /^[^\s@]+@[^\s@]+$/;

const wantedText = (max: number, message: string) =>
  z.string(message).pipe(z.string().trim().min(1, message)).pipe(text(max));

const days = Object.fromEntries(WEEKDAYS.map((day) => [day, writtenDay])) as {
  readonly [day in (typeof WEEKDAYS)[number]]: typeof writtenDay;
};

/** Everything a house needs before the first plate can be checked, as the founding page sends it; each by itself. */
const fields = z.object({
  email: wantedText(254, 'Give your e-mail address.').refine(
    (email) => EMAIL.test(email),
    'This is not an e-mail address.',
  ),
  displayName: wantedText(60, 'Give the name that others see.'),
  password: z.string('Give a password.').min(1, 'Give a password.').pipe(exactText(PASSWORD_LENGTH_MAX)),
  declared: z.literal('yes', 'Tick it, or let somebody found the makerspace who can declare it.'),
  makerspaceName: wantedText(60, 'Give the name of the makerspace.'),
  timeZone: wantedText(60, 'Give a time zone.').refine(isTimeZone, 'Give a name such as Europe/Dublin.'),
  ...days,
  pressName: wantedText(60, 'Give the press a name.'),
  clampKind: z.enum(['hydraulic', 'toggle'], 'Choose one.'),
  clampMinKn: quantity(0, 50_000),
  clampMaxKn: quantity(1, 50_000),
  tieBarsWidthMm: quantity(20, 5000),
  tieBarsHeightMm: quantity(20, 5000),
  platensGuided: z.enum(['yes', ''], 'Choose one.'),
  openingStrokeMm: quantity(1, 5000),
  screwDiameterMm: quantity(5, 300),
  shotCm3: quantity(0.1, 100_000),
  maxPressureMpa: quantity(1, 500),
  maxFlowCm3PerS: quantity(0.1, 10_000),
  barrelShots: quantity(0.5, 20),
  nozzleOrificeMm: quantity(0.3, 30),
  bolsterName: wantedText(60, 'Give the bolster a name.'),
  faceWidthMm: quantity(20, 3000),
  faceHeightMm: quantity(20, 3000),
  faceMaterial: z.enum(['steel', 'EN AW-6082-T6', 'EN AW-7075-T6'], 'Choose one.'),
  allowableFacePressureMpa: quantity(1, 2000),
  thread: z.enum(['M4', 'M5', 'M6', 'M8', 'M10', 'M12'], 'Choose one.'),
  holeColumns: wholeQuantity(1, 40),
  holeRows: wholeQuantity(1, 40),
  pitchXMm: quantity(1, 1000),
  pitchYMm: quantity(1, 1000),
  holeDepthMm: quantity(1, 200),
  holePositionMm: quantity(0, 2),
  sprueLengthMm: quantity(1, 300),
  sprueNozzleEndMm: quantity(0.5, 30),
  spruePartingFaceMm: quantity(0.5, 50),
  minimumDaylightMm: quantity(0, 2000),
  largestStackMm: quantity(1, 3000),
});

export type FirstRunForm = z.output<typeof fields>;

/** The founding form as it was sent, with everything that is wrong with it at once, in the order of its fields. */
export function readFirstRun(body: unknown): ReadForm<FirstRunForm> {
  const read = readForm(fields, body);
  const errors = { ...faultsBetween(soundOnes(read.given)), ...read.errors };
  if (read.value !== undefined && Object.keys(errors).length === 0) return read;
  const order = Object.keys(fields.shape);
  const sorted = Object.entries(errors).sort(([a], [b]) => order.indexOf(a) - order.indexOf(b));
  return { given: read.given, errors: Object.fromEntries(sorted) };
}

/** The fields that are right by themselves. */
function soundOnes(given: { readonly [field: string]: string }): Partial<FirstRunForm> {
  return Object.fromEntries(
    Object.entries(fields.shape).flatMap(([name, schema]) => {
      const parsed = schema.safeParse(given[name]);
      return parsed.success ? [[name, parsed.data]] : [];
    }),
  );
}

const atLeast = (a: number | undefined, b: number | undefined) =>
  a !== undefined && b !== undefined && a >= b;

/** What is wrong between fields, as far as those it is about are right by themselves. */
function faultsBetween(form: Partial<FirstRunForm>): FieldErrors {
  const { email = '', displayName = '', makerspaceName = '', password } = form;
  const weak = password && passwordFault(password, [email, displayName, makerspaceName]);
  const tooWide = (count = 0, pitchMm = 0, faceMm = Number.POSITIVE_INFINITY) =>
    (count - 1) * pitchMm >= faceMm;
  return {
    ...(weak && { password: passwordFaultText(weak) }),
    ...(atLeast(form.clampMinKn, form.clampMaxKn) && { clampMaxKn: 'Give more than the least force.' }),
    ...(atLeast(form.minimumDaylightMm, form.largestStackMm) && {
      largestStackMm: 'Give more than the minimum daylight.',
    }),
    ...(atLeast(form.sprueNozzleEndMm, form.spruePartingFaceMm) &&
      form.sprueNozzleEndMm !== form.spruePartingFaceMm && {
        spruePartingFaceMm:
          'The sprue opens towards the parting face: give at least its diameter at the nozzle.',
      }),
    ...(tooWide(form.holeColumns, form.pitchXMm, form.faceWidthMm) && {
      pitchXMm: 'The holes do not fit on the face.',
    }),
    ...(tooWide(form.holeRows, form.pitchYMm, form.faceHeightMm) && {
      pitchYMm: 'The holes do not fit on the face.',
    }),
  };
}

export function shopRulesOf(form: FirstRunForm): ShopRules {
  return {
    ...FIRST_LIMITS,
    makerspaceName: form.makerspaceName,
    timeZone: form.timeZone,
    openingHours: {
      monday: form.monday,
      tuesday: form.tuesday,
      wednesday: form.wednesday,
      thursday: form.thursday,
      friday: form.friday,
      saturday: form.saturday,
      sunday: form.sunday,
    },
  };
}

export function pressFactsFrom(form: FirstRunForm): PressFacts {
  return {
    clamp: {
      kind: form.clampKind,
      minKn: form.clampMinKn,
      maxKn: form.clampMaxKn,
      tieBarsWidthMm: form.tieBarsWidthMm,
      tieBarsHeightMm: form.tieBarsHeightMm,
      platensGuided: form.platensGuided === 'yes',
      eccentricMomentNmm: null,
    },
    openingStrokeMm: form.openingStrokeMm,
    injection: {
      screwDiameterMm: form.screwDiameterMm,
      shotCm3: form.shotCm3,
      maxPressureMpa: form.maxPressureMpa,
      maxFlowCm3PerS: form.maxFlowCm3PerS,
      barrelShots: form.barrelShots,
      nozzleOrificeMm: form.nozzleOrificeMm,
    },
    intensification: null,
    platenThicknessMm: null,
    dryCycleS: null,
    chiller: null,
  };
}

export function bolsterFactsFrom(form: FirstRunForm): BolsterFacts {
  return {
    face: { widthMm: form.faceWidthMm, heightMm: form.faceHeightMm, centre: { x: 0, y: 0 } },
    faceMaterial: form.faceMaterial,
    allowableFacePressureMpa: form.allowableFacePressureMpa,
    holes: gridOfHoles(form),
    faceOpenings: [],
    sprue: {
      lengthMm: form.sprueLengthMm,
      nozzleEndDiameterMm: form.sprueNozzleEndMm,
      partingFaceDiameterMm: form.spruePartingFaceMm,
    },
    minimumDaylightMm: form.minimumDaylightMm,
    largestStackMm: form.largestStackMm,
    halfThicknessMm: null,
    halfMaterial: null,
  };
}

/** Columns and rows at even pitches, centred on the sprue axis. */
function gridOfHoles(form: FirstRunForm): readonly TappedHole[] {
  const along = (count: number, pitchMm: number) =>
    Array.from({ length: count }, (_, i) => (i - (count - 1) / 2) * pitchMm);
  return along(form.holeColumns, form.pitchXMm).flatMap((x) =>
    along(form.holeRows, form.pitchYMm).map((y) => ({
      at: { x, y },
      thread: form.thread,
      depthMm: form.holeDepthMm,
      positionMm: form.holePositionMm,
    })),
  );
}
