import { z } from 'zod';
import type { BolsterFacts, PressFacts, TappedHole } from '../engineering/press-facts.js';
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

/** Everything a house needs before the first plate can be checked, as the founding page sends it. */
export const firstRunForm = z
  .object({
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
  })
  .superRefine((form, context) => {
    const wrong = (field: keyof typeof form, message: string) =>
      context.addIssue({ code: 'custom', path: [field], message });
    const fault = passwordFault(form.password, [form.email, form.displayName, form.makerspaceName]);
    if (fault !== undefined) wrong('password', passwordFaultText(fault));
    if (form.clampMinKn >= form.clampMaxKn) wrong('clampMaxKn', 'Give more than the least force.');
    if (form.minimumDaylightMm >= form.largestStackMm)
      wrong('largestStackMm', 'Give more than the minimum daylight.');
    if (form.sprueNozzleEndMm > form.spruePartingFaceMm) {
      wrong(
        'spruePartingFaceMm',
        'The sprue opens towards the parting face: give at least its diameter at the nozzle.',
      );
    }
    if ((form.holeColumns - 1) * form.pitchXMm >= form.faceWidthMm)
      wrong('pitchXMm', 'The holes do not fit on the face.');
    if ((form.holeRows - 1) * form.pitchYMm >= form.faceHeightMm)
      wrong('pitchYMm', 'The holes do not fit on the face.');
  });

export type FirstRunForm = z.output<typeof firstRunForm>;

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
