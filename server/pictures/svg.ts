import { escapeText, SafeHtml } from './safe-html.js';

type Attributes = { readonly [name: string]: string | number | undefined };

/** A length of a drawing, rounded to 0.01 so that a page stays small. */
export function fixed(value: number): string {
  const rounded = Math.round(value * 100) / 100;
  return rounded === 0 ? '0' : String(rounded);
}

/** One element; numbers are rounded, text is escaped, undefined attributes are left out. `content` is markup. */
export function element(name: string, attributes: Attributes, content = ''): string {
  let tag = `<${name}`;
  for (const key in attributes) {
    const value = attributes[key];
    if (value === undefined) continue;
    tag += ` ${key}="${typeof value === 'number' ? fixed(value) : escapeText(value)}"`;
  }
  return content === '' ? `${tag}/>` : `${tag}>${content}</${name}>`;
}

export interface Frame {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface SvgOptions {
  readonly frame: Frame;
  readonly className: string;
  /** What it shows, in words; null where the words stand beside it. */
  readonly label: string | null;
  /** Height of letters in units of the drawing; lines are measured by it too (see pictures.css). */
  readonly letterHeight?: number;
  /** Size asked of the page for one unit of the drawing, so that views side by side keep one scale. */
  readonly pixelsPerUnit?: number;
}

/** A whole picture. */
export function svg(options: SvgOptions, content: string): SafeHtml {
  const { frame, className, label, letterHeight, pixelsPerUnit } = options;
  const size = pixelsPerUnit
    ? { width: frame.width * pixelsPerUnit, height: frame.height * pixelsPerUnit }
    : {};
  const spoken = label === null ? { 'aria-hidden': 'true' } : { role: 'img', 'aria-label': label };
  return new SafeHtml(
    element(
      'svg',
      {
        class: className,
        viewBox: `${fixed(frame.x)} ${fixed(frame.y)} ${fixed(frame.width)} ${fixed(frame.height)}`,
        ...size,
        'font-size': letterHeight,
        ...spoken,
        focusable: 'false',
      },
      content,
    ),
  );
}

export function path(className: string, d: string): string {
  return d === '' ? '' : element('path', { class: className, d });
}

/** A rectangle between two corners in any order. */
export function box(className: string, x1: number, y1: number, x2: number, y2: number): string {
  return element('rect', {
    class: className,
    x: Math.min(x1, x2),
    y: Math.min(y1, y2),
    width: Math.abs(x2 - x1),
    height: Math.abs(y2 - y1),
  });
}

export function circle(className: string, cx: number, cy: number, r: number): string {
  return element('circle', { class: className, cx, cy, r });
}

export function line(className: string, x1: number, y1: number, x2: number, y2: number): string {
  return path(className, `M${fixed(x1)} ${fixed(y1)}L${fixed(x2)} ${fixed(y2)}`);
}

export function text(
  className: string,
  x: number,
  y: number,
  words: string,
  anchor: 'start' | 'middle' | 'end' = 'middle',
  turn?: string,
): string {
  return element(
    'text',
    { class: className, x, y, 'text-anchor': anchor === 'start' ? undefined : anchor, transform: turn },
    escapeText(words),
  );
}
