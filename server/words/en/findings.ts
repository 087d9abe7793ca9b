import type { CheckName, Cure, Finding } from '../../engineering/finding.js';
import { boltPatternWords } from './checks/bolt-pattern.js';
import type { CheckGroup, CheckWords } from './checks/check-words.js';
import { clampForceWords } from './checks/clamp-force.js';
import { coolingWords } from './checks/cooling.js';
import { daylightWords } from './checks/daylight.js';
import { dryingWords } from './checks/drying.js';
import { faceWords } from './checks/face.js';
import { feedOnSprueWords } from './checks/feed-on-sprue.js';
import { fillPressureWords } from './checks/fill-pressure.js';
import { gateShearWords } from './checks/gate-shear.js';
import { landPressureWords } from './checks/land-pressure.js';
import { machinableWords } from './checks/machinable.js';
import { openingStrokeWords } from './checks/opening-stroke.js';
import { partingLineWords } from './checks/parting-line.js';
import { plateFloorWords } from './checks/plate-floor.js';
import { plateWarmingWords } from './checks/plate-warming.js';
import { releaseWords } from './checks/release.js';
import { residenceWords } from './checks/residence.js';
import { screwEngagementWords } from './checks/screw-engagement.js';
import { screwHeadsWords } from './checks/screw-heads.js';
import { shotVolumeWords } from './checks/shot-volume.js';
import { shrinkageWords } from './checks/shrinkage.js';
import { ventsWords } from './checks/vents.js';
import { wallsWords } from './checks/walls.js';
import { numberText, quantityText } from './numbers.js';

const CHECK_WORDS: { readonly [check in CheckName]: CheckWords } = {
  face: faceWords,
  'bolt-pattern': boltPatternWords,
  'feed-on-sprue': feedOnSprueWords,
  'screw-engagement': screwEngagementWords,
  'screw-heads': screwHeadsWords,
  walls: wallsWords,
  daylight: daylightWords,
  'opening-stroke': openingStrokeWords,
  'clamp-force': clampForceWords,
  'parting-line': partingLineWords,
  'land-pressure': landPressureWords,
  vents: ventsWords,
  cooling: coolingWords,
  'plate-warming': plateWarmingWords,
  'fill-pressure': fillPressureWords,
  residence: residenceWords,
  'shot-volume': shotVolumeWords,
  'gate-shear': gateShearWords,
  'plate-floor': plateFloorWords,
  release: releaseWords,
  machinable: machinableWords,
  shrinkage: shrinkageWords,
  drying: dryingWords,
};

/** A cure in words. `change` holds the fields to try at once; null when the drawing itself must change. */
export interface WordedCure {
  readonly amountText: string;
  readonly what: string;
  readonly also: string | null;
  readonly change: Cure['change'] | null;
}

/** A finding in words, as a page and a report show it. */
export interface WordedFinding {
  readonly name: string;
  readonly group: CheckGroup;
  readonly line: string;
  readonly summary: string;
  /** What to mind besides the cures. */
  readonly note: string | null;
  /** The note, and the first cure after it: all that is to be done, in one text. */
  readonly advice: string | null;
  readonly marginText: string | null;
  readonly cures: readonly WordedCure[];
}

/** Says a finding. Throws when the check has no sentence for its situation or for one of its cures. */
export function wordFinding(finding: Finding): WordedFinding {
  const words = CHECK_WORDS[finding.check];
  const summary = words.summary[finding.situation];
  if (!summary) throw new Error(`no sentence for ${finding.check} ${finding.situation}`);
  const note = words.advice?.[finding.situation]?.(finding) ?? null;
  const cures = finding.cures.map((cure) => wordCure(words, finding.check, cure));
  return {
    name: words.name,
    group: words.group,
    line: words.line(finding),
    summary: summary(finding),
    note,
    advice: [note, cureAsAdvice(finding, cures)].filter((text) => text !== null).join(' ') || null,
    marginText: marginText(finding, words.past(finding)),
    cures,
  };
}

/** The name of a check, as a heading. */
export function nameOfCheck(check: CheckName): string {
  return CHECK_WORDS[check].name;
}

function wordCure(words: CheckWords, check: CheckName, cure: Cure): WordedCure {
  const say = words.cures[cure.code];
  if (!say) throw new Error(`no sentence for ${check} cure ${cure.code}`);
  // A drawing is mirrored, not turned by as many degrees.
  const amountText = cure.code === 'mirror-drawing' ? 'mirror' : quantityText(cure.amount, cure.unit);
  return { amountText, ...say(cure), change: cure.change ?? null };
}

function cureAsAdvice({ verdict }: Finding, [first]: readonly WordedCure[]): string | null {
  if (verdict === 'clear' || !first) return null;
  return first.also === null ? `${first.what}.` : `${first.what}. ${first.also}`;
}

/** "2.0 mm too thin", "0.5 mm to spare", "just met"; null where there is no margin. `past` as in `CheckWords`. */
export function marginText({ margin, unit }: Pick<Finding, 'margin' | 'unit'>, past: string): string | null {
  if (margin === null) return null;
  // A ratio has no unit to be so much of.
  const text = unit === 'times' ? numberText(Math.abs(margin)) : quantityText(Math.abs(margin), unit);
  if (margin === 0) return 'just met';
  return margin < 0 ? `${text} ${past}` : `${text} to spare`;
}
