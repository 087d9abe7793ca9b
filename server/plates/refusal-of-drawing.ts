import type { DrawingReason, DrawingRefused } from '../engineering/drawing/drawing-refusal.js';
import { type Reason, Refusal } from '../reasons.js';

/** A drawing that the reader turned away, as the refusal the service answers with. */
export function refusalOfDrawing({ reasons: [first, ...others] }: DrawingRefused): Refusal {
  const fallback = { code: 'drawing-not-dxf' } as const;
  return new Refusal([reasonOf(first ?? fallback), ...others.map(reasonOf)]);
}

function reasonOf({
  code,
  layer,
  entity,
  block,
  at,
  to,
  lengthMm,
  value,
  limit,
  line,
}: DrawingReason): Reason {
  return {
    code,
    place: {
      ...(layer !== undefined && { layer }),
      ...(entity !== undefined && { entity }),
      ...(block !== undefined && { block }),
      ...finite('xMm', at?.x),
      ...finite('yMm', at?.y),
    },
    figures: {
      ...finite('lengthMm', lengthMm),
      ...finite('toXMm', to?.x),
      ...finite('toYMm', to?.y),
      ...finite('limit', limit),
      ...finite('line', line),
      ...(value !== undefined && { value }),
    },
  };
}

function finite<Name extends string>(name: Name, value: number | undefined) {
  return (value !== undefined && Number.isFinite(value) ? { [name]: value } : {}) as {
    [name in Name]?: number;
  };
}
