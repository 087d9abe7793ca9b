import { z } from 'zod';

const WRITTEN = /^[-−]?\d+(?:[.,]\d+)?$/;

/** A number as people write it in a form: with a decimal comma or point, within bounds. */
export function quantity(from: number, to: number) {
  const message = `Give a number from ${written(from)} to ${written(to)}.`;
  return z
    .string(message)
    .trim()
    .regex(WRITTEN, message)
    .transform((given) => Number(given.replace(',', '.').replace('−', '-')))
    .refine((value) => from <= value && value <= to, message);
}

/** As `quantity`, without a fraction. */
export function wholeQuantity(from: number, to: number) {
  return quantity(from, to).refine(
    Number.isInteger,
    `Give a whole number from ${written(from)} to ${written(to)}.`,
  );
}

function written(value: number): string {
  return value.toLocaleString('en-GB', { maximumFractionDigits: 3 });
}
