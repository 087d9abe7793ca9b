import type { Cavity, MeasuredDrawing } from '../engineering/drawing/measured-drawing.js';
import { deepestMm, depthKey } from '../pictures/depth-steps.js';
import type { Tone } from '../pictures/dimension.js';
import { partRightWayRound } from '../pictures/part-right-way-round.js';
import { plateOnBolster } from '../pictures/plate-on-bolster.js';
import { stackFromTheSide } from '../pictures/stack-from-the-side.js';
import {
  DRAWING_WORDS,
  depthRange,
  drawnLength,
  faceWords,
  featureNames,
  partLabel,
  partText,
  planLabel,
  stackLabel,
} from '../words/en/check-page.js';
import type { CheckedPlate } from './check-page.js';
import type { FindingView } from './check-page-findings.js';

/** Different parts of one plate that are shown; more would be a catalogue. */
const PARTS_SHOWN = 3;

/** Two cavities are alike when their figures agree to this many decimals, mm. */
const ALIKE_DECIMALS = 1;

/** All pictures of a checked plate: on the bolster, the stack, the key to the depths, the parts as they come out. */
export function drawPlate({
  drawing,
  facts,
  bolster,
  check,
  findings,
}: CheckedPlate & { readonly findings: readonly FindingView[] }) {
  const { registration } = check;
  const numbered = findings.filter((view) => view.balloon !== null);
  const onStack = numbered.find((view) => view.finding.check === 'daylight');
  return {
    plan: plateOnBolster({
      drawing,
      registration,
      bolster: bolster.facts,
      screw: facts.screw,
      screwGroups: facts.screwGroups,
      balloons: numbered.flatMap((view) => {
        const at = view.finding.places[0];
        return at && view !== onStack ? [{ words: view.balloon ?? '', tone: toneOf(view), at }] : [];
      }),
      label: planLabel(drawing, registration, bolster.facts),
      words: { ...DRAWING_WORDS, face: faceWords(bolster.facts) },
    }),
    stack: stackFromTheSide({
      drawing,
      registration,
      bolster: bolster.facts,
      plate: facts,
      balloon: onStack ? { words: onStack.balloon ?? '', tone: toneOf(onStack) } : null,
      label: stackLabel(facts, bolster.facts),
      words: DRAWING_WORDS,
    }),
    depthRows: depthKey(drawing).map(({ depthMm, features, swatch }) => ({
      swatch,
      value: drawnLength(depthMm),
      text: featureNames(features),
      features,
    })),
    depthGroups: depthGroups(drawing),
    parts: partsOf(drawing),
  };
}

/** The key below the plate: depths of one tone share a row, which says which cut is how deep. */
function depthGroups(drawing: MeasuredDrawing) {
  const rows = depthKey(drawing);
  return [...new Set(rows.map(({ step }) => step))].map((step) => {
    const same = rows.filter((row) => row.step === step);
    const depths = same.map(({ depthMm }) => depthMm);
    const swatch = same[0]?.swatch;
    if (same.length === 1)
      return { swatch, value: drawnLength(depths[0] ?? 0), text: featureNames(same[0]?.features ?? []) };
    return {
      swatch,
      value: depthRange(Math.min(...depths), Math.max(...depths)),
      text: same
        .map(({ depthMm, features }) => `${featureNames(features)} ${drawnLength(depthMm)}`)
        .join(', '),
    };
  });
}

function toneOf({ verdict }: FindingView): Tone {
  return verdict === 'stop' || verdict === 'caution' ? verdict : 'ink';
}

function partsOf(drawing: MeasuredDrawing) {
  const deepest = deepestMm(drawing);
  const kinds = new Map<string, Cavity[]>();
  for (const cavity of drawing.cavities)
    kinds.set(kindOf(cavity), [...(kinds.get(kindOf(cavity)) ?? []), cavity]);
  return [...kinds.values()].slice(0, PARTS_SHOWN).flatMap((alike) => {
    const cavity = alike[0];
    if (!cavity) return [];
    return [
      {
        picture: partRightWayRound({
          cavity,
          deepestMm: deepest,
          label: partLabel(cavity.widthMm, cavity.heightMm, cavity.maxDepthMm),
          words: DRAWING_WORDS,
        }),
        size: partLabel(cavity.widthMm, cavity.heightMm, cavity.maxDepthMm),
        text: partText(alike.length, cavity.volumeMm3, drawing.moulded.volumeMm3),
      },
    ];
  });
}

/** What tells kinds of parts apart: cavities turned or mirrored on the plate keep volume, area and depth. */
function kindOf({ areaMm2, volumeMm3, maxDepthMm }: Cavity): string {
  return [Math.sqrt(areaMm2), Math.cbrt(volumeMm3), maxDepthMm]
    .map((figure) => figure.toFixed(ALIKE_DECIMALS))
    .join(' ');
}
