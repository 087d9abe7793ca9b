/** Writes small DXF texts for tests: every entity is a list of group code and value pairs. */
export type Group = readonly [code: number, value: number | string];
export type Entity = readonly Group[];

export interface DxfParts {
  /** `$INSUNITS`; null leaves the header without it. */
  readonly insunits?: number | string | null;
  readonly version?: string;
  readonly codePage?: string;
  readonly layers?: readonly Entity[];
  readonly blocks?: readonly {
    readonly name: string;
    readonly entities: readonly Entity[];
    readonly base?: XY;
  }[];
  readonly entities: readonly Entity[];
}

export type XY = readonly [x: number, y: number];

export function dxf({ insunits = 4, version, codePage, layers, blocks, entities }: DxfParts): string {
  const header: Group[] = [
    ...(version === undefined
      ? []
      : ([
          [9, '$ACADVER'],
          [1, version],
        ] as const)),
    ...(codePage === undefined
      ? []
      : ([
          [9, '$DWGCODEPAGE'],
          [3, codePage],
        ] as const)),
    ...(insunits === null
      ? []
      : ([
          [9, '$INSUNITS'],
          [70, insunits],
        ] as const)),
  ];
  const groups: Group[] = [
    ...section('HEADER', header),
    ...(layers ? section('TABLES', [[0, 'TABLE'], [2, 'LAYER'], ...layers.flat(), [0, 'ENDTAB']]) : []),
    ...(blocks ? section('BLOCKS', blocks.flatMap(blockGroups)) : []),
    ...section('ENTITIES', entities.flat()),
    [0, 'EOF'],
  ];
  return text(groups);
}

export function text(groups: readonly Group[]): string {
  return `${groups.map(([code, value]) => `${code}\n${value}`).join('\n')}\n`;
}

function section(name: string, groups: readonly Group[]): Group[] {
  return [[0, 'SECTION'], [2, name], ...groups, [0, 'ENDSEC']];
}

function blockGroups({ name, entities, base = [0, 0] }: NonNullable<DxfParts['blocks']>[number]): Group[] {
  return [[0, 'BLOCK'], [2, name], [10, base[0]], [20, base[1]], ...entities.flat(), [0, 'ENDBLK']];
}

export function layerRecord(name: string, { frozen = false, off = false }): Entity {
  return [
    [0, 'LAYER'],
    [2, name],
    [70, frozen ? 1 : 0],
    [62, off ? -7 : 7],
  ];
}

export function circle(layer: string, [x, y]: XY, radius: number, ...more: Group[]): Entity {
  return [[0, 'CIRCLE'], [8, layer], [10, x], [20, y], [40, radius], ...more];
}

export function arc(
  layer: string,
  [x, y]: XY,
  radius: number,
  from: number,
  to: number,
  ...more: Group[]
): Entity {
  return [[0, 'ARC'], [8, layer], [10, x], [20, y], [40, radius], [50, from], [51, to], ...more];
}

export function line(layer: string, [x1, y1]: XY, [x2, y2]: XY, ...more: Group[]): Entity {
  return [[0, 'LINE'], [8, layer], [10, x1], [20, y1], [11, x2], [21, y2], ...more];
}

export function point(layer: string, [x, y]: XY): Entity {
  return [
    [0, 'POINT'],
    [8, layer],
    [10, x],
    [20, y],
  ];
}

/** Vertices with an optional bulge each. */
export type Vertex = readonly [x: number, y: number, bulge?: number];

export function lwpolyline(
  layer: string,
  vertices: readonly Vertex[],
  closed: boolean,
  ...more: Group[]
): Entity {
  return [
    [0, 'LWPOLYLINE'],
    [8, layer],
    [90, vertices.length],
    [70, closed ? 1 : 0],
    ...more,
    ...vertices.flatMap(([x, y, bulge]): Group[] => [
      [10, x],
      [20, y],
      ...(bulge === undefined ? [] : [[42, bulge] as Group]),
    ]),
  ];
}

export function polyline(layer: string, vertices: readonly Vertex[], closed: boolean): Entity {
  return [
    [0, 'POLYLINE'],
    [8, layer],
    [66, 1],
    [70, closed ? 1 : 0],
    ...vertices.flatMap(([x, y, bulge]): Group[] => [
      [0, 'VERTEX'],
      [8, layer],
      [10, x],
      [20, y],
      ...(bulge === undefined ? [] : [[42, bulge] as Group]),
    ]),
    [0, 'SEQEND'],
    [8, layer],
  ];
}

export function rectangle(layer: string, [x, y]: XY, width: number, height: number): Entity {
  const corners: Vertex[] = [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ];
  return lwpolyline(layer, corners, true);
}

export function ellipse(
  layer: string,
  [x, y]: XY,
  [ux, uy]: XY,
  ratio: number,
  from = 0,
  to = 2 * Math.PI,
): Entity {
  return [
    [0, 'ELLIPSE'],
    [8, layer],
    [10, x],
    [20, y],
    [11, ux],
    [21, uy],
    [40, ratio],
    [41, from],
    [42, to],
  ];
}

export function insert(layer: string, block: string, [x, y]: XY, ...more: Group[]): Entity {
  return [[0, 'INSERT'], [8, layer], [2, block], [10, x], [20, y], ...more];
}

export function note(type: string, layer: string): Entity {
  return [
    [0, type],
    [8, layer],
    [10, 0],
    [20, 0],
    [40, 3],
    [1, 'A NOTE'],
  ];
}

/** A sound plate of 100 x 80 about the origin, with a feed and one runner; tests add what they are about. */
export function plateWith(...entities: readonly Entity[]): readonly Entity[] {
  return [
    rectangle('PLATE', [-50, -40], 100, 80),
    circle('FEED 3', [0, 0], 2),
    line('RUNNER 3 W4', [0, 0], [0, 10]),
    ...entities,
  ];
}

/** The same with a cavity of 20 x 10, away from what a test adds near the left edge. */
export function soundPlate(...entities: readonly Entity[]): readonly Entity[] {
  return plateWith(rectangle('CAVITY 2', [10, 20], 20, 10), ...entities);
}
