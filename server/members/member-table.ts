import { CsvError, parse } from 'csv-parse/sync';
import { ROLES, type Role } from '../context.js';
import { text } from '../http/text.js';
import { Refusal, refuse } from '../reasons.js';
import { TABLE_FAULTS } from '../words/en/member-table.js';
import { DISPLAY_NAME_LENGTH_MAX, EMAIL_LENGTH_MAX, email } from './schemas.js';
import { emailKey } from './store.js';

/** The CSV library stops here before its memory does. */
const LINE_LENGTH_MAX = 4000;
const LINES_MAX = 10_000;
export const TABLE_BYTES_MAX = 2 * 1024 * 1024;

/** A line of the table that can be invited. */
export interface TableLine {
  /** Counted from 1, the line of headings too, as a text editor counts. */
  readonly line: number;
  readonly displayName: string;
  readonly email: string;
  readonly role: Role;
}

/** A line that cannot, and why. */
export interface LineFault {
  readonly line: number;
  readonly code:
    | 'name-missing'
    | 'name-too-long'
    | 'email-missing'
    | 'email-wrong'
    | 'role-unknown'
    | 'not-storable'
    | 'said-before'
    | 'member-already';
  /** What stands there, cut short. */
  readonly given: string;
  /** Of an address that was said before: where. */
  readonly firstLine?: number;
}

export interface MemberTable {
  readonly lines: readonly TableLine[];
  readonly faults: readonly LineFault[];
}

/** Headings, as people write them. */
const COLUMNS = {
  name: ['name', 'display name', 'displayname'],
  email: ['email', 'e-mail', 'e-mail address', 'email address'],
  role: ['role'],
} as const;

/**
 * Reads a table of people to invite: CSV in UTF-8 with headings, separated by commas, semicolons or tabs. Every
 * line is either good or comes with its first fault; only a table that is none is refused as a whole.
 */
export function readMemberTable(bytes: Uint8Array): MemberTable | Refusal {
  if (bytes.byteLength > TABLE_BYTES_MAX)
    return unreadable('too-large', { limitMib: TABLE_BYTES_MAX / 2 ** 20 });
  const written = decoded(bytes);
  if (written instanceof Refusal) return written;
  const records = recordsIn(written);
  if (records instanceof Refusal) return records;
  const [headings, ...rows] = records;
  if (headings === undefined) return unreadable('empty');
  if (rows.length > LINES_MAX) return unreadable('too-long', { limit: LINES_MAX });
  const places = placesOf(headings.cells);
  return places instanceof Refusal ? places : judged(rows, places);
}

function unreadable(
  fault: keyof typeof TABLE_FAULTS,
  figures: { readonly [name: string]: string | number } = {},
): Refusal {
  return refuse('table-not-read', { field: 'csv', figures: { detail: TABLE_FAULTS[fault](figures) } });
}

function decoded(bytes: Uint8Array): string | Refusal {
  if (isUtf8(bytes)) return new TextDecoder('utf-8').decode(bytes);
  let line = 1;
  let from = 0;
  for (
    let end = bytes.indexOf(10);
    end !== -1 && isUtf8(bytes.subarray(from, end));
    end = bytes.indexOf(10, from)
  ) {
    line += 1;
    from = end + 1;
  }
  return unreadable('not-utf-8', { line });
}

function isUtf8(bytes: Uint8Array): boolean {
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(bytes);
    return true;
  } catch {
    return false;
  }
}

interface Row {
  readonly line: number;
  readonly cells: readonly string[];
}

function recordsIn(written: string): readonly Row[] | Refusal {
  try {
    const read = parse(written, {
      delimiter: [',', ';', '\t'],
      info: true,
      max_record_size: LINE_LENGTH_MAX,
      relax_column_count: true,
      skip_empty_lines: true,
      to: LINES_MAX + 2,
      trim: true,
    });
    return (read as unknown as { record: string[]; info: { lines: number } }[]).map(({ record, info }) => ({
      line: info.lines,
      cells: record,
    }));
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    const line = typeof error.lines === 'number' ? error.lines : 1;
    if (error.code === 'CSV_QUOTE_NOT_CLOSED') return unreadable('quote-open', { line });
    return unreadable(error.code === 'CSV_MAX_RECORD_SIZE' ? 'line-too-long' : 'broken', { line });
  }
}

type Places = { readonly [column in keyof typeof COLUMNS]: number };

function placesOf(headings: readonly string[]): Places | Refusal {
  const plain = headings.map((heading) => heading.toLowerCase());
  const placeOf = (column: keyof typeof COLUMNS) =>
    plain.findIndex((heading) => (COLUMNS[column] as readonly string[]).includes(heading));
  const places = { name: placeOf('name'), email: placeOf('email'), role: placeOf('role') };
  if (places.name === -1) return unreadable('no-columns', { missing: 'name' });
  return places.email === -1 ? unreadable('no-columns', { missing: 'email' }) : places;
}

function judged(rows: readonly Row[], places: Places): MemberTable {
  const lines: TableLine[] = [];
  const faults: LineFault[] = [];
  const firstLines = new Map<string, number>();
  for (const row of rows) {
    const read = lineIn(row, places);
    const firstLine = 'code' in read ? undefined : firstLines.get(read.email);
    if ('code' in read) faults.push(read);
    else if (firstLine !== undefined) {
      faults.push({ line: row.line, code: 'said-before', given: read.email, firstLine });
    } else {
      firstLines.set(read.email, row.line);
      lines.push(read);
    }
  }
  return { lines, faults };
}

const storable = text(LINE_LENGTH_MAX);

function lineIn({ line, cells }: Row, places: Places): TableLine | LineFault {
  const [displayName = '', address = '', role = ''] = [places.name, places.email, places.role].map(
    (place) => cells[place] ?? '',
  );
  const fault = (code: LineFault['code'], given = '') => ({ line, code, given: given.slice(0, 80) });
  if (displayName === '') return fault('name-missing');
  if (displayName.length > DISPLAY_NAME_LENGTH_MAX) return fault('name-too-long', displayName);
  if (address === '') return fault('email-missing');
  if (![displayName, address].every((cell) => storable.safeParse(cell).success)) return fault('not-storable');
  if (address.length > EMAIL_LENGTH_MAX || !email.safeParse(address).success)
    return fault('email-wrong', address);
  const known = role === '' ? 'member' : ROLES.find((one) => one === role.toLowerCase());
  if (known === undefined) return fault('role-unknown', role);
  return { line, displayName, email: emailKey(address), role: known };
}
