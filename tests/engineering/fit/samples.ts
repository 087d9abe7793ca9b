import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { measureDxf } from '../../../server/engineering/drawing/measure-drawing.js';
import type { MeasuredDrawing } from '../../../server/engineering/drawing/measured-drawing.js';
import { demoBolster } from '../../support/gullwing.js';

const FOLDER = join(import.meta.dirname, '..', '..', 'samples');

interface ExpectedTransform {
  readonly rotation_deg: number;
  readonly mirror: boolean;
  readonly max_bolt_error_mm: number;
  readonly min_max_bolt_error_after_float_mm?: number;
}

interface ExpectedFit {
  readonly fits: readonly string[];
  readonly bolt_pattern_fits: readonly string[];
  readonly transforms: readonly ExpectedTransform[];
}

export interface ExpectedSample {
  readonly readable: boolean;
  readonly fit: { readonly demo: ExpectedFit; readonly keyed: ExpectedFit };
  readonly min_wall_mm: {
    readonly cavity_to_edge: number;
    readonly cavity_to_bolt_hole: number;
    readonly cavity_to_sink?: number;
  };
}

/** The readable sample drawings and what two other programs found in them. */
export function expectedSamples(): { readonly [file: string]: ExpectedSample } {
  const all = JSON.parse(readFileSync(join(FOLDER, 'expected.json'), 'utf8')) as {
    readonly files: { readonly [file: string]: ExpectedSample };
  };
  return Object.fromEntries(Object.entries(all.files).filter(([, sample]) => sample.readable));
}

/** A sample drawing, measured for Gullwing Yard's sprue. */
export function sampleDrawing(file: string): MeasuredDrawing {
  return measureDxf(readFileSync(join(FOLDER, file)), {
    sprueDiameterMm: demoBolster.sprue.partingFaceDiameterMm,
  });
}
