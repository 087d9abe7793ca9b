import type { Reason } from '../../reasons.js';

/** A part cannot be out of parallel by as much as it is thick. */
export function parallelFault({
  parallelWithinMm,
  thicknessMm,
}: {
  readonly parallelWithinMm: number | null;
  readonly thicknessMm: number;
}): Reason | undefined {
  if (parallelWithinMm === null || parallelWithinMm < thicknessMm) return undefined;
  return { code: 'stack-part-absurd', field: 'parallelWithinMm', figures: { thicknessMm } };
}
