import type { LineFault } from '../../members/member-table.js';

/** Why a line of a table of members is left out. */
export const LINE_FAULTS = {
  'name-missing': () => 'There is no name.',
  'name-too-long': () => 'The name is longer than 60 characters.',
  'email-missing': () => 'There is no e-mail address.',
  'email-wrong': ({ given }) => `“${given}” is not an e-mail address.`,
  'role-unknown': ({ given }) => `“${given}” is no role; write member, steward or admin, or leave it empty.`,
  'not-storable': () => 'It holds a character that cannot be stored.',
  'said-before': ({ line }) => `The address stands on line ${line} already; that line counts.`,
  'member-already': () => 'A member with this address is already here.',
} as const satisfies {
  readonly [code in LineFault['code']]: (fault: { readonly given: string; readonly line: number }) => string;
};

/** What keeps a whole table from being read. */
export const TABLE_FAULTS = {
  empty: () => 'there is nothing in it',
  'too-large': ({ limitMib }) => `it is larger than ${limitMib} MiB`,
  'too-long': ({ limit }) => `it has more than ${limit} lines`,
  'not-utf-8': ({ line }) => `line ${line} is not in UTF-8`,
  'no-columns': ({ missing }) => `the first line names no column “${missing}”`,
  'quote-open': ({ line }) => `a quotation mark near line ${line} has no partner`,
  'line-too-long': ({ line }) => `line ${line} is far too long`,
  broken: ({ line }) => `line ${line} is not CSV`,
} as const satisfies {
  readonly [fault: string]: (figures: { readonly [name: string]: string | number }) => string;
};
