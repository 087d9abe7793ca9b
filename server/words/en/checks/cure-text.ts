import type { Cure } from '../../../engineering/finding.js';
import { quantityText } from '../numbers.js';

/** A length in text. */
export function mm(value: number): string {
  return quantityText(value, 'mm');
}

/** A figure of a cure that must be a number. */
export function cureFigure({ code, figures }: Cure, name: string): number {
  const value = figures[name];
  if (typeof value !== 'number') throw new TypeError(`cure ${code} without the figure ${name}`);
  return value;
}

/** A list of figures of a cure or finding, empty when there is none. */
export function figureList(figures: Cure['figures'], name: string): readonly number[] {
  const value = figures[name];
  return typeof value === 'object' ? value : [];
}

/** "hole 3", "holes 1, 3 and 4". */
export function holesText(numbers: readonly number[]): string {
  const last = numbers.at(-1);
  if (numbers.length < 2) return `hole ${last ?? ''}`.trim();
  return `holes ${numbers.slice(0, -1).join(', ')} and ${last}`;
}

/** What a change of the stack does to the screws. */
export function screwsAfter(cure: Cure): string | null {
  const { screws, screwSize } = cure.figures;
  if (screws === 'none') return null;
  if (screws === 'no-length') {
    return `No standard ${screwSize} screw suits then: look at the depth of the sinks too.`;
  }
  const engaged = `engages ${mm(cureFigure(cure, 'engagedMm'))}`;
  if (screws === 'as-now') return `The screw stays and ${engaged}.`;
  return `Take ${screwSize} × ${cureFigure(cure, 'screwLengthMm')} screws: that length ${engaged}.`;
}

/** A move in the drawing's directions: "1.5 mm to the left and 2.0 mm up". Null for no move at all. */
export function moveText(dxMm: number, dyMm: number): string | null {
  const across =
    Math.abs(dxMm) < 0.0005 ? null : `${mm(Math.abs(dxMm))} ${dxMm < 0 ? 'to the left' : 'to the right'}`;
  const along = Math.abs(dyMm) < 0.0005 ? null : `${mm(Math.abs(dyMm))} ${dyMm < 0 ? 'down' : 'up'}`;
  const parts = [across, along].filter((part) => part !== null);
  return parts.length === 0 ? null : parts.join(' and ');
}

/** Where one place lies from another: "1.5 mm to the left of and 2.0 mm above". Null where they are the same. */
export function sideText(dxMm: number, dyMm: number): string | null {
  const across =
    Math.abs(dxMm) < 0.0005 ? null : `${mm(Math.abs(dxMm))} to the ${dxMm < 0 ? 'left' : 'right'} of`;
  const along = Math.abs(dyMm) < 0.0005 ? null : `${mm(Math.abs(dyMm))} ${dyMm < 0 ? 'below' : 'above'}`;
  const parts = [across, along].filter((part) => part !== null);
  return parts.length === 0 ? null : parts.join(' and ');
}
