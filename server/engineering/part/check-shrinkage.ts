import type { Cavity, MeasuredDrawing } from '../drawing/measured-drawing.js';
import type { Finding, Step } from '../finding.js';
import { inscribedDiameterMm } from '../geometry/inscribed-circle.js';
import { leastBox } from '../geometry/least-box.js';
import type { Point } from '../geometry/point.js';
import { interiorPointOf } from '../geometry/polygons.js';
import type { Polymer } from '../polymers/polymer.js';

/** A thick place beside a thin one sinks in and pulls the part crooked beyond this ratio. Common practice, no source. */
const THICK_TO_THIN_MOST = 3;
/** A thin place counts from this share of the part's area on: a scale or a letter is not a wall. */
const WALL_SHARE = 0.1;
/** Parts this alike are one kind, mm. */
const ALIKE_MM = 0.05;

/** A part's own sections: a section is as thick as the lesser of its depth and its width. */
interface Sections {
  readonly thickMm: number;
  readonly thinMm: number;
  readonly thickAt: Point;
}

/** Parts of one size: as cut, and how many. Length and width of the narrowest box round the part, mm. */
interface PartSize {
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly depthMm: number;
  readonly count: number;
}

/**
 * Shrinkage: how large each part comes out, by what the plate must be scaled for a wanted size, and whether a thick
 * section stands beside a thin one. Part = cavity x (1 - S); cavity = part / (1 - S). Sizes mm, S in percent.
 */
export function checkShrinkage(drawing: Pick<MeasuredDrawing, 'cavities'>, polymer: Polymer): Finding {
  const sections = drawing.cavities.map(sectionsOf);
  const ratioOf = ({ thickMm, thinMm }: Sections) => thickMm / thinMm;
  const worst = sections.reduce<Sections | null>(
    (a, b) => (a === null || ratioOf(b) > ratioOf(a) ? b : a),
    null,
  );
  const ratio = worst === null ? 1 : ratioOf(worst);
  const band = polymer.shrinkagePercent;
  const isUneven = ratio > THICK_TO_THIN_MOST;
  const sinks = worst !== null && isUneven ? worst : null;
  const sizes = sizesOf(drawing.cavities);
  return {
    check: 'shrinkage',
    verdict: band === null ? 'unknown' : isUneven ? 'caution' : 'clear',
    situation: band === null ? 'not-known' : isUneven ? 'thick-beside-thin' : 'even',
    figure: ratio,
    limit: THICK_TO_THIN_MOST,
    allowed: 'at-most',
    unit: 'times',
    margin: THICK_TO_THIN_MOST - ratio,
    figures: {
      polymer: polymer.symbol,
      thickMm: worst?.thickMm ?? 0,
      thinMm: worst?.thinMm ?? 0,
      partLengthMm: sizes.map(({ lengthMm }) => lengthMm),
      partWidthMm: sizes.map(({ widthMm }) => widthMm),
      partDepthMm: sizes.map(({ depthMm }) => depthMm),
      partCount: sizes.map(({ count }) => count),
      ...(band === null
        ? { missing: 'shrinkage' }
        : {
            minPercent: band.min,
            maxPercent: band.max,
            scale: cavityScale(band.usual),
            scaleMin: cavityScale(band.min),
            scaleMax: cavityScale(band.max),
          }),
    },
    places: sinks === null ? [] : [sinks.thickAt],
    working: workingOf(polymer, sizes[0], worst),
    cures:
      sinks === null
        ? []
        : [
            {
              code: 'thin-down',
              amount: sinks.thinMm * THICK_TO_THIN_MOST,
              unit: 'mm',
              figures: { thickMm: sinks.thickMm },
              at: sinks.thickAt,
            },
          ],
    source:
      band === null || isUneven
        ? 'common practice, no source'
        : `shrinkage of ${polymer.symbol}: ${band.source}`,
    basis: band === null || isUneven ? 'practice' : band.basis,
  };
}

function workingOf(polymer: Polymer, part: PartSize | undefined, worst: Sections | null): readonly Step[] {
  const band = polymer.shrinkagePercent;
  const even: readonly Step[] =
    worst === null
      ? []
      : [
          {
            says: 'ratio',
            figures: { thickMm: worst.thickMm, thinMm: worst.thinMm, ratio: worst.thickMm / worst.thinMm },
            source: 'lesser of depth and width of each section',
            basis: 'computed',
          },
        ];
  if (band === null || part === undefined) return even;
  const { source, basis } = band;
  const known = { source, basis };
  const worked = { source: 'part = cavity (1 - S)', basis: 'computed' } as const;
  const shrunk = (percent: number, says: string): Step => ({
    says,
    figures: { cavityMm: part.lengthMm, percent, partMm: part.lengthMm * (1 - percent / 100) },
    ...worked,
  });
  return [
    {
      says: 'band',
      figures: { polymer: polymer.symbol, minPercent: band.min, maxPercent: band.max },
      ...known,
    },
    shrunk(band.min, 'part-largest'),
    shrunk(band.max, 'part-smallest'),
    { says: 'scale', figures: { percent: band.usual, scale: cavityScale(band.usual) }, ...known },
    ...even,
  ];
}

/** By how much a cavity is larger than the part that is wanted: 1 / (1 - S). 1.01833 for 1.8 percent. */
export function cavityScale(shrinkagePercent: number): number {
  return 1 / (1 - shrinkagePercent / 100);
}

function sectionsOf(cavity: Cavity): Sections {
  const sections = cavity.levels.map(({ depthMm, region, areaMm2 }) => ({
    mm: Math.min(depthMm, inscribedDiameterMm(region)),
    isWall: areaMm2 >= WALL_SHARE * cavity.areaMm2,
    region,
  }));
  const thickest = sections.reduce((a, b) => (b.mm > a.mm ? b : a));
  const walls = sections.filter(({ isWall, mm }) => isWall && mm > 0).map(({ mm }) => mm);
  return {
    thickMm: thickest.mm,
    thinMm: Math.min(thickest.mm, ...walls),
    thickAt: interiorPointOf(thickest.region),
  };
}

/** The sizes there are, the largest first. */
function sizesOf(cavities: readonly Cavity[]): readonly PartSize[] {
  const kinds: PartSize[] = [];
  for (const { region, maxDepthMm: depthMm } of cavities) {
    const box = leastBox(region);
    const known = kinds.findIndex(
      (kind) =>
        Math.abs(kind.lengthMm - box.lengthMm) < ALIKE_MM &&
        Math.abs(kind.widthMm - box.widthMm) < ALIKE_MM &&
        Math.abs(kind.depthMm - depthMm) < ALIKE_MM,
    );
    const same = kinds[known];
    if (same) kinds[known] = { ...same, count: same.count + 1 };
    else kinds.push({ ...box, depthMm, count: 1 });
  }
  return kinds.sort((a, b) => b.lengthMm * b.widthMm - a.lengthMm * a.widthMm);
}
