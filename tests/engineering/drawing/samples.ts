import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/** Sample drawings and what a general-purpose geometry library makes of them; see tests/samples/README.md. */
const FOLDER = join(import.meta.dirname, '../../samples');

export interface Place {
  readonly [key: string]: number | string | readonly number[];
}

export interface ExpectedFeature {
  readonly area_mm2: number;
  readonly volume_mm3: number;
  readonly max_depth_mm: number;
  readonly area_tol_mm2: number;
  readonly volume_tol_mm3: number;
  readonly area_inside_plate_mm2?: number;
}

export interface ExpectedDrawing {
  readonly readable: true;
  readonly units: {
    readonly insunits: number | null;
    readonly mm_per_unit: number;
    readonly notice: boolean;
  };
  readonly plate: {
    readonly width_mm: number;
    readonly height_mm: number;
    readonly x_min_mm: number;
    readonly y_min_mm: number;
    readonly area_mm2: number;
  };
  readonly feed: {
    readonly x_mm: number;
    readonly y_mm: number;
    readonly diameter_mm: number | null;
    readonly diameter_from_sprue_mm?: number;
    readonly depth_from_runner_mm?: number;
  };
  readonly bolts: {
    readonly count: number;
    readonly diameters_mm: readonly number[];
    readonly positions_rel_feed_mm: readonly (readonly [number, number])[];
  };
  readonly dowels?: { readonly count: number; readonly diameters_mm: readonly number[] };
  readonly sinks?: {
    readonly count: number;
    readonly diameters_mm: readonly number[];
    readonly depth_mm: readonly number[];
  };
  readonly water?: {
    readonly open_segments: number;
    readonly total_length_mm: number;
    readonly bore_mm: readonly number[];
    readonly depth_mm: readonly number[];
  };
  readonly features: { readonly [feature: string]: ExpectedFeature };
  readonly projected_area_mm2: number;
  readonly projected_area_tol_mm2: number;
  readonly moulded_volume_mm3: number;
  readonly moulded_volume_tol_mm3: number;
  readonly centroid_rel_feed_mm: readonly [number, number];
  readonly min_wall_mm: {
    readonly cavity_to_edge: number;
    readonly cavity_to_bolt_hole: number;
    readonly cavity_to_sink?: number;
  };
  readonly ignored_layers: readonly string[];
  readonly left_out?: {
    readonly frozen_layers: readonly string[];
    readonly off_layers: readonly string[];
    readonly notes: readonly (readonly [string, string])[];
    readonly paper_space_entities: number;
  };
}

export interface ExpectedRefusal {
  readonly readable: false;
  readonly refusal: { readonly where?: Place };
}

interface ExpectedFile {
  readonly meta: { readonly accept: { readonly [tolerance: string]: number } };
  readonly files: { readonly [name: string]: ExpectedDrawing | ExpectedRefusal };
}

const expected: ExpectedFile = JSON.parse(readFileSync(join(FOLDER, 'expected.json'), 'utf8'));

export const sampleNames: readonly string[] = readdirSync(FOLDER).filter((name) => name.endsWith('.dxf'));

export const readable = Object.entries(expected.files).flatMap(([name, file]) =>
  file.readable ? [{ name, expected: file }] : [],
);

export const refused = Object.entries(expected.files).flatMap(([name, file]) =>
  file.readable ? [] : [{ name, where: file.refusal.where ?? {} }],
);

export const accept = expected.meta.accept as {
  readonly length_mm: number;
  readonly position_mm: number;
  readonly centroid_mm: number;
  readonly wall_mm: number;
  readonly hole_diameter_mm: number;
};

export function sampleBytes(name: string): Uint8Array {
  return readFileSync(join(FOLDER, name));
}
