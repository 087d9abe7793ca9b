const MINUS = '\u2212';

/** A number as people read it: at most `decimals` places, a true minus sign, no "-0.0". */
export function numberText(value: number, decimals = 1): string {
  const text = Math.abs(value).toFixed(decimals);
  return value < 0 && Number(text) !== 0 ? `${MINUS}${text}` : text;
}

/** Decimals that tell the value apart without pretending: 0.04, 2.5, 336. */
function decimalsFor(value: number, unit: string): number {
  const size = Math.abs(value);
  if (unit === 'mm') return size !== 0 && size < 0.1 ? 3 : size < 1 ? 2 : 1;
  if (unit === 'kN') return size < 10 ? 1 : 0;
  if (unit === 'kN mm' || unit === 'mm2') return 0;
  if (unit === 'MPa') return size < 10 ? 1 : 0;
  if (unit === 'deg') return size % 1 === 0 ? 0 : 1;
  if (unit === '' || unit === '1/s' || unit === 'C') return 0;
  if (unit === 's' || unit === 'min') return size < 10 ? 1 : 0;
  return size < 10 ? 2 : 1;
}

const UNIT_TEXT: { readonly [unit: string]: string } = {
  deg: '°',
  percent: '%',
  mm2: 'mm²',
  cm2: 'cm²',
  mm3: 'mm³',
  cm3: 'cm³',
  C: '°C',
};

/** A quantity with its unit: `2.0 mm`, `336 kN`, `90°`. */
export function quantityText(value: number, unit: string, decimals = decimalsFor(value, unit)): string {
  const number = numberText(value, decimals);
  if (unit === '') return number;
  return unit === 'deg' ? `${number}°` : `${number} ${UNIT_TEXT[unit] ?? unit}`;
}

/** A place on the drawing: `x 12.5, y −40.0 mm`. */
export function placeText(xMm: number, yMm: number): string {
  return `x ${numberText(xMm)}, y ${numberText(yMm)} mm`;
}
