import { z } from 'zod';
import type { PressFacts } from '../engineering/press-facts.js';
import { type FieldErrors, type ReadForm, readForm } from '../http/form.js';
import { quantity } from '../http/quantity.js';
import { PRESS_FORM_ERRORS as WRONG } from '../words/en/bolster-form.js';
import { optional } from './optional.js';
import { pressFields } from './version-changes.js';

const fields = z
  .object({
    clampKind: z.enum(['hydraulic', 'toggle'], WRONG.choose),
    clampMinKn: quantity(0, 50_000),
    clampMaxKn: quantity(1, 50_000),
    tieBarsWidthMm: quantity(20, 5000),
    tieBarsHeightMm: quantity(20, 5000),
    platensGuided: z.enum(['yes', ''], WRONG.choose),
    eccentricMomentNmm: optional(quantity(1, 1e11)),
    platenThicknessMm: optional(quantity(1, 2000)),
    openingStrokeMm: quantity(1, 5000),
    dryCycleS: optional(quantity(0.5, 600)),
    screwDiameterMm: quantity(5, 300),
    shotCm3: quantity(0.1, 100_000),
    maxPressureMpa: quantity(1, 500),
    maxFlowCm3PerS: quantity(0.1, 10_000),
    barrelShots: quantity(0.5, 20),
    nozzleOrificeMm: quantity(0.3, 30),
    intensification: optional(quantity(1, 100)),
    chillerFlowLPerMin: optional(quantity(0.1, 1000)),
    chillerWaterC: optional(quantity(0, 95)),
  })
  .superRefine(({ chillerFlowLPerMin, chillerWaterC }, context) => {
    if ((chillerFlowLPerMin === null) === (chillerWaterC === null)) return;
    const path = [chillerFlowLPerMin === null ? 'chillerFlowLPerMin' : 'chillerWaterC'];
    context.addIssue({ code: 'custom', path, message: WRONG.both });
  });

/** What a form says the press is, or what is wrong with it, cell by cell. */
export function readPressForm(body: unknown): ReadForm<PressFacts> {
  const read = readForm(fields, body);
  if (read.errors !== undefined) return read;
  const { given, value } = read;
  const { chillerFlowLPerMin: flowLPerMin, chillerWaterC: waterC } = value;
  return {
    given,
    value: {
      clamp: {
        kind: value.clampKind,
        minKn: value.clampMinKn,
        maxKn: value.clampMaxKn,
        tieBarsWidthMm: value.tieBarsWidthMm,
        tieBarsHeightMm: value.tieBarsHeightMm,
        platensGuided: value.platensGuided === 'yes',
        eccentricMomentNmm: value.eccentricMomentNmm,
      },
      openingStrokeMm: value.openingStrokeMm,
      injection: {
        screwDiameterMm: value.screwDiameterMm,
        shotCm3: value.shotCm3,
        maxPressureMpa: value.maxPressureMpa,
        maxFlowCm3PerS: value.maxFlowCm3PerS,
        barrelShots: value.barrelShots,
        nozzleOrificeMm: value.nozzleOrificeMm,
      },
      intensification: value.intensification,
      platenThicknessMm: value.platenThicknessMm,
      dryCycleS: value.dryCycleS,
      chiller: flowLPerMin === null || waterC === null ? null : { flowLPerMin, waterC },
    },
  };
}

/** The press as the fields of a form. */
export function fieldsOfPress(facts: PressFacts): FieldErrors {
  const { platensGuided, ...figures } = pressFields(facts);
  return {
    ...Object.fromEntries(Object.entries(figures).map(([name, value]) => [name, String(value ?? '')])),
    platensGuided: platensGuided ? 'yes' : '',
  };
}
