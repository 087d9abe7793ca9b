import { DrawingRefused } from './drawing-refusal.js';
import { type Groups, groupsOf } from './group-codes.js';

/** One entity as it stands in the file: its groups from `from` up to `to`, without the one that names it. */
export interface DxfEntity {
  readonly type: string;
  readonly layer: string;
  readonly paperSpace: boolean;
  readonly groups: Groups;
  readonly from: number;
  readonly to: number;
  /** The VERTEX entities of a POLYLINE. */
  readonly vertices: readonly DxfEntity[];
}

export interface DxfBlock {
  readonly name: string;
  readonly entities: readonly DxfEntity[];
  readonly base: { readonly x: number; readonly y: number };
}

/** What a plate drawing can hold, by the sections of the file. Layers and blocks are found by their name in capitals. */
export interface DxfDocument {
  /** `$INSUNITS` as written; null without it. */
  readonly insunits: string | null;
  readonly layers: ReadonlyMap<string, { readonly frozen: boolean; readonly off: boolean }>;
  readonly blocks: ReadonlyMap<string, DxfBlock>;
  readonly entities: readonly DxfEntity[];
}

/** Names in DXF are compared without regard to case. */
export function nameKey(name: string): string {
  return name.toUpperCase();
}

/**
 * Takes a DXF text apart into header, layers, blocks and entities; other sections are passed over.
 * @throws DrawingRefused `drawing-not-dxf`, `drawing-truncated`, `drawing-no-entities`
 */
export function dxfDocumentOf(text: string): DxfDocument {
  const groups = groupsOf(text);
  const sections = sectionsOf(groups);
  const header = sections.get('HEADER');
  const tables = sections.get('TABLES');
  const blocks = sections.get('BLOCKS');
  const entities = sections.get('ENTITIES');
  const drawn = entities ? assembled(entitiesIn(groups, entities.from, entities.to)) : [];
  if (drawn.length === 0) throw new DrawingRefused([{ code: 'drawing-no-entities' }]);
  return {
    insunits: header ? insunitsIn(groups, header) : null,
    layers: tables ? layersIn(groups, tables) : new Map(),
    blocks: blocks ? blocksIn(groups, blocks) : new Map(),
    entities: drawn,
  };
}

interface Span {
  readonly from: number;
  readonly to: number;
}

function sectionsOf({ codes, values }: Groups): Map<string, Span> {
  const sections = new Map<string, Span>();
  let i = 0;
  while (i < codes.length && codes[i] === 999) i++;
  while (i < codes.length) {
    if (codes[i] !== 0 || values[i] !== 'SECTION' || codes[i + 1] !== 2) {
      throw new DrawingRefused([{ code: 'drawing-not-dxf', value: values[i] ?? '', line: 2 * i + 1 }]);
    }
    const name = values[i + 1] as string;
    const from = i + 2;
    let to = from;
    while (to < codes.length && !(codes[to] === 0 && values[to] === 'ENDSEC')) to++;
    if (to === codes.length) throw new DrawingRefused([{ code: 'drawing-truncated', line: 2 * to }]);
    sections.set(name, { from, to });
    i = to + 1;
  }
  return sections;
}

function insunitsIn({ codes, values }: Groups, { from, to }: Span): string | null {
  for (let i = from; i < to; i++) {
    if (codes[i] === 9 && values[i] === '$INSUNITS' && codes[i + 1] === 70) return values[i + 1] as string;
  }
  return null;
}

/** Group 70 bit 1 freezes a layer; a negative colour (62) turns it off (DXF reference, LAYER). */
function layersIn(groups: Groups, { from, to }: Span): DxfDocument['layers'] {
  const layers = new Map<string, { frozen: boolean; off: boolean }>();
  for (const record of entitiesIn(groups, from, to)) {
    if (record.type !== 'LAYER') continue;
    const name = nameKey(unescaped(textOf(record, 2) ?? ''));
    const flags = Number(textOf(record, 70) ?? 0);
    layers.set(name, { frozen: (flags & 1) !== 0, off: Number(textOf(record, 62) ?? 0) < 0 });
  }
  return layers;
}

function blocksIn(groups: Groups, { from, to }: Span): DxfDocument['blocks'] {
  const blocks = new Map<string, DxfBlock>();
  let head: DxfEntity | null = null;
  let body: DxfEntity[] = [];
  for (const entity of entitiesIn(groups, from, to)) {
    if (entity.type === 'BLOCK') {
      head = entity;
      body = [];
    } else if (entity.type === 'ENDBLK' && head) {
      const name = unescaped(textOf(head, 2) ?? '');
      const base = { x: Number(textOf(head, 10) ?? 0), y: Number(textOf(head, 20) ?? 0) };
      blocks.set(nameKey(name), { name, entities: assembled(body), base });
      head = null;
    } else {
      body.push(entity);
    }
  }
  return blocks;
}

function entitiesIn(groups: Groups, from: number, to: number): DxfEntity[] {
  const { codes, values } = groups;
  const entities: DxfEntity[] = [];
  let i = from;
  while (i < to && codes[i] !== 0) i++;
  while (i < to) {
    const start = i + 1;
    let layer = '0';
    let paperSpace = false;
    let end = start;
    for (; end < to && codes[end] !== 0; end++) {
      if (codes[end] === 8) layer = values[end] as string;
      else if (codes[end] === 67) paperSpace = values[end] === '1';
    }
    const type = values[i] as string;
    entities.push({ type, layer: unescaped(layer), paperSpace, groups, from: start, to: end, vertices: [] });
    i = end;
  }
  return entities;
}

/** Puts each VERTEX into its POLYLINE and drops the marks that end a sequence. */
function assembled(flat: readonly DxfEntity[]): DxfEntity[] {
  const entities: DxfEntity[] = [];
  let vertices: DxfEntity[] | null = null;
  for (const entity of flat) {
    if (entity.type === 'VERTEX' && vertices) {
      vertices.push(entity);
      continue;
    }
    vertices = null;
    if (entity.type === 'SEQEND') continue;
    if (entity.type === 'POLYLINE') {
      vertices = [];
      entities.push({ ...entity, vertices });
    } else {
      entities.push(entity);
    }
  }
  return entities;
}

/** The first value with a code, as written. */
export function textOf({ groups, from, to }: DxfEntity, code: number): string | undefined {
  for (let i = from; i < to; i++) if (groups.codes[i] === code) return groups.values[i];
  return undefined;
}

/** `\U+00A0` and its like stand for characters outside the file's code page. */
function unescaped(name: string): string {
  return name.includes('\\U+')
    ? name.replace(/\\U\+([0-9A-Fa-f]{4})/g, (_, hex: string) =>
        String.fromCharCode(Number.parseInt(hex, 16)),
      )
    : name;
}
