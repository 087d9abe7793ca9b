/** Drawings made to burn time or memory, as text DXF. */

function section(name: string, content: string): string {
  return `0\nSECTION\n2\n${name}\n${content}0\nENDSEC\n`;
}

function drawing(entities: string, blocks = ''): string {
  return `${blocks === '' ? '' : section('BLOCKS', blocks)}${section('ENTITIES', entities)}0\nEOF\n`;
}

function line(
  layer: string,
  [x1, y1]: readonly [number, number],
  [x2, y2]: readonly [number, number],
): string {
  return `0\nLINE\n8\n${layer}\n10\n${x1}\n20\n${y1}\n11\n${x2}\n21\n${y2}\n`;
}

/** A plate whose cavity is a spiral band of `count` short lines, closed, all within the coordinates allowed. */
export function spiralCavity(count: number): string {
  const half = Math.floor(count / 2);
  const point = (i: number, offsetMm: number): [number, number] => {
    const angle = i * 0.02;
    const radius = 2 + offsetMm + angle * 0.12;
    return [hundredths(radius * Math.cos(angle)), hundredths(radius * Math.sin(angle))];
  };
  const out = Array.from({ length: half }, (_, i) => line('CAVITY 2', point(i, 0), point(i + 1, 0)));
  const back = Array.from({ length: half }, (_, i) => line('CAVITY 2', point(i, 0.3), point(i + 1, 0.3)));
  const ends = [
    line('CAVITY 2', point(0, 0), point(0, 0.3)),
    line('CAVITY 2', point(half, 0), point(half, 0.3)),
  ];
  return drawing(PLATE + out.join('') + back.join('') + ends.join(''));
}

/** The same band as one polyline: far more corners in as many bytes. */
export function spiralPolyline(count: number): string {
  const half = Math.floor(count / 2);
  const corner = (i: number, offsetMm: number) => {
    const radius = 2 + offsetMm + i * 1e-4;
    return `10\n${hundredths(radius * Math.cos(i * 0.01))}\n20\n${hundredths(radius * Math.sin(i * 0.01))}\n`;
  };
  const out = Array.from({ length: half }, (_, i) => corner(i, 0));
  const back = Array.from({ length: half }, (_, i) => corner(half - 1 - i, 0.03));
  return drawing(
    `${PLATE}0\nLWPOLYLINE\n8\nCAVITY 2\n90\n${2 * half}\n70\n1\n${out.join('')}${back.join('')}`,
  );
}

function hundredths(value: number): number {
  return Math.round(value * 100) / 100;
}

/** Blocks that each insert the one before as an array of 100 x 100. */
export function nestedArrays(depth: number): string {
  const inner = `0\nBLOCK\n2\nB0\n10\n0\n20\n0\n${line('CAVITY 2', [0, 0], [1, 0])}0\nENDBLK\n`;
  const outer = Array.from(
    { length: depth },
    (_, i) => `0\nBLOCK\n2\nB${i + 1}\n10\n0\n20\n0\n${array(`B${i}`)}0\nENDBLK\n`,
  );
  return drawing(PLATE + array(`B${depth}`), inner + outer.join(''));
}

function array(block: string): string {
  return `0\nINSERT\n8\n0\n2\n${block}\n10\n0\n20\n0\n70\n100\n71\n100\n44\n0.01\n45\n0.01\n`;
}

const CORNERS = [
  [-90, -70],
  [90, -70],
  [90, 70],
  [-90, 70],
] as const;

const PLATE =
  CORNERS.map((corner, i) => line('PLATE', corner, CORNERS[(i + 1) % 4] ?? [0, 0])).join('') +
  '0\nCIRCLE\n8\nFEED 3\n10\n0\n20\n0\n40\n2\n';
