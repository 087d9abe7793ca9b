import type { Finding } from '../../../engineering/finding.js';
import { numberText, placeText, quantityText } from '../numbers.js';
import type { CheckWords } from './check-words.js';
import { figure, kilonewtons, placedNote } from './figures.js';

function worstPlace(finding: Finding): string {
  const [place] = finding.places;
  return place ? ` first at ${placeText(place.x, place.y)}` : '';
}

function eccentricityText(finding: Finding): string {
  return `${numberText(figure(finding, 'forceOffClampAxisMm'))} mm off the clamp axis, which is itself ${numberText(figure(finding, 'clampAxisOffLandMm'))} mm off the middle of the land`;
}

function limitText(finding: Finding): string {
  const limit = finding.figures.eccentricLimitKnMm;
  if (typeof limit !== 'number') {
    return 'The maker’s limit for an eccentric load is not on record for this press: look in its manual.';
  }
  return `The load is ${numberText(figure(finding, 'eccentricLoadKnMm'), 0)} kN mm off centre; the press’s maker allows ${numberText(limit, 0)} kN mm.`;
}

function noteAfter(finding: Finding): string {
  const note = placedNote(finding);
  return note === null ? '' : ` ${note}`;
}

function lineOf(finding: Finding): string {
  const settable = `${kilonewtons(finding, 'settableMaxKn')} settable`;
  const figureText = quantityText(finding.figure ?? 0, finding.unit);
  if (finding.situation === 'no-land') return 'no flat metal round the cavity';
  if (finding.unit === 'kN mm') return `${figureText} off centre, ${limitKnMm(finding)} allowed`;
  if (finding.situation === 'opens-if-tilting') {
    return `guided, closes from ${kilonewtons(finding, 'guidedFromKn')}; opens if the platens tilt`;
  }
  if (finding.situation === 'opens-unguided') return 'opens: the platens are not guided';
  if (finding.situation === 'little-room' || finding.situation === 'closes-off-centre') {
    return `closes from ${figureText} if the platens tilt, ${kilonewtons(finding, 'guidedFromKn')} guided`;
  }
  return `closes from ${figureText}, ${settable}`;
}

function limitKnMm(finding: Finding): string {
  return quantityText(figure(finding, 'eccentricLimitKnMm'), 'kN mm');
}

export const partingLineWords: CheckWords = {
  name: 'Parting line',
  group: 'Force',
  line: lineOf,
  past: ({ allowed }) => (allowed === 'at-most' ? 'too much' : 'short'),
  summary: {
    closes: (finding) =>
      `The land presses all round cavity and runner from ${quantityText(finding.figure ?? 0, 'kN')}, whether the platens can tilt or not.`,
    'opens-if-tilting': (finding) =>
      `Melt pushes ${eccentricityText(finding)}. Fully guided platens close from ${kilonewtons(finding, 'guidedFromKn')}; platens free to tilt would open${worstPlace(finding)} at every force that can be set. Real platens lie between.`,
    'opens-unguided': (finding) =>
      `Melt pushes ${eccentricityText(finding)}, and the platens of this press are not guided. Free to tilt they open${worstPlace(finding)} at every force that can be set. Guided platens would close from ${kilonewtons(finding, 'guidedFromKn')}.`,
    'closes-off-centre': (finding) =>
      `Melt pushes ${eccentricityText(finding)}. The land presses all round cavity and runner from ${quantityText(finding.figure ?? 0, 'kN')} if the platens can tilt, and from ${kilonewtons(finding, 'guidedFromKn')} if they are guided.`,
    'little-room': (finding) =>
      `Melt pushes ${eccentricityText(finding)}. If the platens can tilt, the plate closes only from ${quantityText(finding.figure ?? 0, 'kN')}; guided, from ${kilonewtons(finding, 'guidedFromKn')}. Below the higher figure it may open${worstPlace(finding)}, and the press has little to add: ${kilonewtons(finding, 'settableMaxKn')} at most.`,
    'opens-at-top-of-band': (finding) =>
      `At the top of the pressure band the plate opens${worstPlace(finding)} at every force that can be set; at the middle it holds.`,
    'no-land': () =>
      'No flat metal is left between the cuts and the edge of the plate: nothing seals the cavity.',
    opens: (finding) =>
      `The plate opens${worstPlace(finding)} at every force that can be set, tilting or guided: melt gets out between the faces.`,
    'over-eccentric-limit': (finding) => `Melt pushes ${eccentricityText(finding)}. ${limitText(finding)}`,
    'top-of-band-over-eccentric-limit': (finding) =>
      `Melt pushes ${eccentricityText(finding)}. At the top of the pressure band that is too far off. ${limitText(finding)}`,
  },
  advice: {
    'opens-if-tilting': (finding) =>
      `Look for flash on the far side in the trial, and keep the force as low as it closes. ${limitText(finding)}${noteAfter(finding)}`,
    closes: placedNote,
    'opens-unguided': (finding) =>
      `Step up short shots and stop at the first flash; it comes on the far side. ${limitText(finding)}${noteAfter(finding)}`,
    'closes-off-centre': (finding) => `${limitText(finding)}${noteAfter(finding)}`,
    'little-room': (finding) => `${limitText(finding)}${noteAfter(finding)}`,
    'opens-at-top-of-band': () => 'Start with short shots and step up; stop at the first flash.',
  },
  cures: {
    pads: (cure) => ({
      what: `Screw a pad of ${numberText(Number(cure.figures.widthMm), 0)} × ${numberText(Number(cure.figures.heightMm), 0)} mm to the bolster, on the far side of the sprue`,
      also: `Its middle ${numberText(Number(cure.figures.fromSprueXMm), 0)}, ${numberText(Number(cure.figures.fromSprueYMm), 0)} mm from the sprue (right, up), exactly as high as the stack, ${quantityText(Number(cure.figures.stackMm), 'mm')}. Screwed down, its head sunk, with ${cure.figures.screwSize} in the tapped hole at ${numberText(Number(cure.figures.screwXMm), 0)}, ${numberText(Number(cure.figures.screwYMm), 0)}: a loose block falls between the closing faces. The plate then closes from ${quantityText(Number(cure.figures.closesFromKn), 'kN')} even if the platens tilt; never set more than ${quantityText(Number(cure.figures.highestKn), 'kN')} with it.`,
    }),
    'less-area': (cure) => ({
      what: `Take ${numberText(cure.amount)} cm² off the projected area`,
      also: `The press holds ${numberText(Number(cure.figures.areaMaxMm2) / 100)} cm² at the top of the band.`,
    }),
    'towards-sprue': (cure) => ({
      what: `Bring the middle of the projected area about ${numberText(cure.amount, 0)} mm nearer to the sprue`,
      also: 'The land is taken to stay as it is.',
    }),
  },
};
