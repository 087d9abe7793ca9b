import type { CutFeature, MeasuredDrawing } from '../../engineering/drawing/measured-drawing.js';
import type { Basis, Finding, Verdict } from '../../engineering/finding.js';
import type { HoleMatch, Registration } from '../../engineering/fit/registration-result.js';
import { ringAreaOf } from '../../engineering/geometry/area.js';
import type { Region } from '../../engineering/geometry/point.js';
import type { BolsterFacts, PlateFacts } from '../../engineering/press-facts.js';
import { numberText, placeText, quantityText } from './numbers.js';

/** Order of a stamp's count: the worst for the reader first, clear last. */
const COUNT_ORDER: readonly Verdict[] = ['stop', 'caution', 'unknown', 'clear'];

/** "1 stop, 1 caution, 1 unknown, 21 clear" */
export function verdictCount(findings: readonly Pick<Finding, 'verdict'>[]): string {
  return COUNT_ORDER.map((verdict) => ({
    verdict,
    count: findings.filter((one) => one.verdict === verdict).length,
  }))
    .filter(({ count }) => count > 0)
    .map(
      ({ verdict, count }) =>
        `${count} ${verdict}${count > 1 && verdict !== 'clear' && verdict !== 'unknown' ? 's' : ''}`,
    )
    .join(', ');
}

/** "3 of 24 findings" */
export function shareOfFindings(count: number, all: number): string {
  return `${count} of ${all} ${all === 1 ? 'finding' : 'findings'}`;
}

/** What was found in a drawing, in one line: "1 outline 180.0 × 140.0, 8 cavities, 8 gates, 8 bolt holes, feed 4.0." */
export function drawingFound(drawing: MeasuredDrawing): string {
  const { plate, features, ventInsidePlate, bolts, sinks, dowels, water, feed, cavities } = drawing;
  const parts = [
    `1 outline ${numberText(plate.widthMm)} × ${numberText(plate.heightMm)}`,
    counted(cavities.length, 'cavity', 'cavities'),
    counted(outerRings(features.RUNNER?.region), 'runner', 'runners'),
    counted(outerRings(features.GATE?.region), 'gate', 'gates'),
    counted(outerRings(ventInsidePlate?.region), 'vent', 'vents'),
    counted(bolts.length, 'bolt hole', 'bolt holes'),
    counted(sinks.length, 'sink', 'sinks'),
    counted(dowels.length, 'dowel', 'dowels'),
    counted(water.length, 'cooling channel', 'cooling channels'),
    `feed ${numberText(feed.diameterMm)}`,
  ];
  return `${parts.filter((part) => part !== null).join(', ')}.`;
}

function counted(count: number, one: string, many: string): string | null {
  return count === 0 ? null : `${count} ${count === 1 ? one : many}`;
}

function outerRings(region: Region = []): number {
  return region.filter((ring) => ringAreaOf(ring) > 0).length;
}

/** "turned 0°, feed on the sprue" */
export function placedNote(registration: Registration): string {
  const { placement, rotationDeg, feedFits } = registration;
  if (!placement) return 'as drawn: no bolt hole tells how it goes on';
  const turn = `${Number((rotationDeg ?? placement.rotationDeg).toFixed(1))}°`;
  return `turned ${turn}, feed ${feedFits ? 'on' : 'off'} the sprue`;
}

/** The plate's picture in a sentence. */
export function planLabel(
  drawing: MeasuredDrawing,
  registration: Registration,
  bolster: BolsterFacts,
): string {
  const { plate, bolts } = drawing;
  const matched = registration.matches.filter((match) => match.matched).length;
  return (
    `Plate ${numberText(plate.widthMm)} × ${numberText(plate.heightMm)} mm on the ${faceWords(bolster)} mm, ` +
    `${placedNote(registration)}; ${matched} of ${bolts.length} bolt holes meet a tapped hole. The tables below say the same.`
  );
}

/** "bolster face 200 × 160" */
export function faceWords({ face }: BolsterFacts): string {
  return `bolster face ${numberText(face.widthMm, 0)} × ${numberText(face.heightMm, 0)}`;
}

/** The stack's picture in a sentence. */
export function stackLabel(plate: PlateFacts, bolster: BolsterFacts): string {
  const stackMm = plate.thicknessMm + plate.facingThicknessMm + plate.packerThicknessMm;
  const gapMm = bolster.minimumDaylightMm - stackMm;
  const parts = [
    `plate ${numberText(plate.thicknessMm)}`,
    ...(plate.facingThicknessMm > 0 ? [`facing plate ${numberText(plate.facingThicknessMm)}`] : []),
    ...(plate.packerThicknessMm > 0 ? [`packer ${numberText(plate.packerThicknessMm)}`] : []),
  ];
  const gap = gapMm > 0 ? `; a gap of ${numberText(gapMm)} mm is left` : '';
  return `The stack from the side: ${parts.join(', ')} mm; least daylight ${numberText(bolster.minimumDaylightMm)} mm${gap}.`;
}

/** A length in a drawing: "180.0", but a vent's "0.02". */
export function drawnLength(lengthMm: number): string {
  return numberText(lengthMm, lengthMm !== 0 && Math.abs(lengthMm) < 0.1 ? 2 : 1);
}

/** "3.0 to 3.5" */
export function depthRange(fromMm: number, toMm: number): string {
  return `${drawnLength(fromMm)} to ${drawnLength(toMm)}`;
}

export const DRAWING_WORDS = {
  noHole: 'no hole here',
  length: drawnLength,
  least: (lengthMm: number) => `${drawnLength(lengthMm)} min`,
  gap: (lengthMm: number) => `${drawnLength(lengthMm)} gap`,
  plate: 'plate',
} as const;

const FEATURE_NAMES = {
  CAVITY: 'cavity',
  RUNNER: 'runner',
  FEED: 'feed',
  GATE: 'gate',
  VENT: 'vent',
  SINK: 'sink',
} as const satisfies { readonly [feature in CutFeature]: string };

export function featureNames(features: readonly CutFeature[]): string {
  return features.map((feature) => FEATURE_NAMES[feature]).join(', ');
}

/** A row of the table that says how the bolt holes meet the bolster. */
export function holeRow(match: HoleMatch, drawing: MeasuredDrawing) {
  const bolt = drawing.bolts[match.bolt];
  const off = match.hole === null ? 'no tapped hole' : `${numberText(match.errorMm, 2)} mm`;
  return {
    number: String(match.bolt + 1),
    at: bolt ? placeText(bolt.at.x, bolt.at.y) : '',
    off,
    allowed: `${numberText(match.allowanceMm, 2)} mm`,
    meets: match.matched ? 'yes' : 'no',
  };
}

/** What a figure rests on. */
export const BASIS_WORDS = {
  sourced: 'published',
  computed: 'worked out',
  memory: 'handbook value, from memory',
  practice: 'common practice, no source',
  machine: "the machine's own limit",
} as const satisfies { readonly [basis in Basis]: string };

/** What a finding rests on, as facts beside its sentence. */
export function findingFacts(finding: Finding, marginText: string | null, advice: string | null) {
  const { figure, unit, source, basis } = finding;
  const limit = limitText(finding);
  const basisWords = BASIS_WORDS[basis];
  return [
    ...(figure === null ? [] : [{ label: 'Figure', value: quantityText(figure, unit) }]),
    ...(limit === null ? [] : [{ label: 'Limit', value: limit }]),
    ...(marginText === null ? [] : [{ label: 'Margin', value: marginText, strong: true }]),
    ...(advice === null ? [] : [{ label: 'Do', value: advice }]),
    { label: 'Source', value: source },
    ...(source === basisWords ? [] : [{ label: 'Basis', value: basisWords }]),
  ];
}

/** "at least 12.0 mm", "0.013 to 0.030 mm" */
function limitText({ limit, allowed, unit }: Finding): string | null {
  if (limit === null) return null;
  if (typeof limit === 'number')
    return `${allowed === 'at-most' ? 'at most' : 'at least'} ${quantityText(limit, unit)}`;
  if (limit.min !== null && limit.max !== null)
    return `${quantityText(limit.min, unit)} to ${quantityText(limit.max, unit)}`;
  if (limit.min !== null) return `at least ${quantityText(limit.min, unit)}`;
  return limit.max === null ? null : `at most ${quantityText(limit.max, unit)}`;
}

const NUMBERS = ['No', 'One', 'Two', 'Three', 'Four', 'Five', 'Six', 'Seven', 'Eight', 'Nine', 'Ten'];

/** "Eight in a shot of 9.1 cm³; each 0.9 cm³." */
export function partText(alike: number, partMm3: number, shotMm3: number): string {
  const count = NUMBERS[alike] ?? String(alike);
  const each = alike === 1 ? 'it takes' : 'each takes';
  return `${count} in a shot of ${cm3(shotMm3)}; ${each} ${cm3(partMm3)}.`;
}

function cm3(volumeMm3: number): string {
  const cubic = volumeMm3 / 1000;
  return `${numberText(cubic, cubic < 1 ? 2 : 1)} cm³`;
}

export function partLabel(widthMm: number, heightMm: number, depthMm: number): string {
  return `The part as it lies in the hand: ${drawnLength(widthMm)} × ${drawnLength(heightMm)} mm, ${drawnLength(depthMm)} mm thick at most, with a section through its middle.`;
}
