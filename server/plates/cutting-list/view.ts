import type { MeasuredDrawing } from '../../engineering/drawing/measured-drawing.js';
import type { Finding } from '../../engineering/finding.js';
import type { CuttingList } from '../../engineering/machining/cutting-list.js';
import { cuttingDrawing } from '../../pictures/cutting-drawing.js';
import * as words from '../../words/en/cutting-list.js';
import { wordFinding } from '../../words/en/findings.js';
import { numberText } from '../../words/en/numbers.js';

/** Data of `templates/cutting-list/cutting-list.hbs`; `findings` as the plate was checked. */
export function cuttingListView(drawing: MeasuredDrawing, list: CuttingList, findings: readonly Finding[]) {
  return {
    open: findings.filter(isOpen).map((finding) => {
      const { name, line, summary } = wordFinding(finding);
      return { verdict: finding.verdict, strong: `${name}: ${line}.`, text: summary };
    }),
    plan: cuttingDrawing({
      drawing,
      list,
      label: words.CUTTING_DRAWING.label(list.holes.length),
      words: { ordinate: words.ordinateText, feed: words.CUTTING_DRAWING.feed },
    }),
    facts: [
      { label: 'Blank', value: words.blankText(list), strong: true },
      { label: 'Finished', value: words.finishedText(list), strong: true },
      { label: 'Allowance', value: words.allowanceText(list) },
    ],
    cutters: list.cutters.map((cutter) => ({
      number: cutter.number,
      diameter: words.sizeText(cutter.diameterMm),
      form: words.formText(cutter),
      use: words.USE[cutter.use],
      stickOut: words.sizeText(cutter.stickOutMm),
      ratio: numberText(cutter.depthToDiameter, 1),
      cuts: words.cutsText(cutter.cuts),
    })),
    holes: list.holes.map((hole) => ({
      number: hole.number,
      x: words.ordinateText(hole.fromDatum.x),
      y: words.ordinateText(hole.fromDatum.y),
      fromFeedX: words.ordinateText(hole.fromFeed.x),
      fromFeedY: words.ordinateText(hole.fromFeed.y),
      drill: words.drillText(hole),
      sink: words.sinkText(hole),
      screw: words.screwText(hole),
    })),
    feed: {
      x: words.ordinateText(list.feed.fromDatum.x),
      y: words.ordinateText(list.feed.fromDatum.y),
      pocket: `${words.sizeText(list.feed.diameterMm)} × ${numberText(list.feed.depthMm, 2)} deep`,
    },
    water: words.boresText(list.water),
    corners: list.depths.map(words.cornerText).filter((text) => text !== null),
    notMachinable: list.notMachinable.length === 0 ? null : words.cutsText(list.notMachinable),
    order: list.order.map((step) => words.STEP_TEXT[step]),
    measure: words.measureRows(list),
    cautions: words.MILLING_CAUTIONS,
  };
}

/** What no resin changes: it is wrong in the metal, and is best known before it is cut. */
const OF_METAL: ReadonlySet<string> = new Set([
  'face',
  'bolt-pattern',
  'feed-on-sprue',
  'screw-engagement',
  'screw-heads',
  'walls',
  'daylight',
  'opening-stroke',
  'machinable',
]);

function isOpen({ check, verdict }: Finding): boolean {
  return verdict !== 'clear' && OF_METAL.has(check);
}
