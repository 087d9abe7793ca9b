import { DrawingRefused } from './drawing-refusal.js';

/**
 * A DXF file is pairs of lines: a whole number that says what the value is, and the value (DXF reference, "Group
 * codes in numerical order"). Values are kept as text until an entity that counts asks for its numbers.
 */
export interface Groups {
  readonly codes: readonly number[];
  readonly values: readonly string[];
}

/** Group codes run from -5 to 1071. */
const LOWEST_CODE = -5;
const HIGHEST_CODE = 1071;

/**
 * Splits a DXF text into groups, up to its end mark.
 * @throws DrawingRefused `drawing-not-dxf` at a line that is no group code, `drawing-truncated` without the end mark
 */
export function groupsOf(text: string): Groups {
  const lines = text.split(text.includes('\n') ? '\n' : '\r');
  const codes: number[] = [];
  const values: string[] = [];
  for (let i = 0; i + 1 < lines.length; i += 2) {
    const code = codeIn(lines[i] as string);
    if (code === null) {
      if (codes.length > 0 && restIsBlank(lines, i)) break;
      throw new DrawingRefused([
        { code: 'drawing-not-dxf', value: excerpt(lines[i] as string), line: i + 1 },
      ]);
    }
    const value = (lines[i + 1] as string).trim();
    if (code === 0 && value === 'EOF') return { codes, values };
    codes.push(code);
    values.push(value);
  }
  if (codes.length === 0 || !opensSection(codes, values)) {
    throw new DrawingRefused([{ code: 'drawing-not-dxf', value: excerpt(lines[0] as string), line: 1 }]);
  }
  throw new DrawingRefused([{ code: 'drawing-truncated', line: lines.length }]);
}

function codeIn(line: string): number | null {
  const short = shortCodeIn(line);
  if (short !== null) return short;
  const code = Number(line);
  if (!Number.isInteger(code) || code < LOWEST_CODE || code > HIGHEST_CODE) return null;
  return code === 0 && line.trim() === '' ? null : code;
}

/** A code as nearly every line writes it, up to three digits after blanks; null for anything else. */
function shortCodeIn(line: string): number | null {
  let i = 0;
  while (line.charCodeAt(i) === SPACE) i++;
  const start = i;
  let code = 0;
  for (; i < line.length; i++) {
    const digit = line.charCodeAt(i) - ZERO;
    if (digit < 0 || digit > 9) break;
    code = 10 * code + digit;
  }
  const isAtEnd = i === line.length || (i === line.length - 1 && line.charCodeAt(i) === RETURN);
  return isAtEnd && i > start && i - start <= 3 ? code : null;
}

const SPACE = 32;
const ZERO = 48;
const RETURN = 13;

function restIsBlank(lines: readonly string[], from: number): boolean {
  return lines.slice(from).every((line) => line.trim() === '');
}

/** The first group that is not a comment (999) opens a section. */
function opensSection(codes: readonly number[], values: readonly string[]): boolean {
  const first = codes.findIndex((code) => code !== 999);
  return codes[first] === 0 && values[first] === 'SECTION';
}

/** Enough of a line to recognise it by. */
function excerpt(line: string): string {
  return line.trim().slice(0, 40);
}
