import { describe, expect, it } from 'vitest';
import { type Action, may, mayAtAll, PERMISSIONS, type Subject } from '../../server/members/permissions.js';
import { CAST, type Who } from '../support/rights/cast.js';

const ME = 'me';

/** Everything a right may be asked for, by a letter. */
const SUBJECTS: { readonly [letter: string]: Subject } = {
  // Oneself and one's own.
  o: { ownerId: ME, role: 'member' },
  // Somebody else's: a member's, a steward's, an admin's.
  m: { ownerId: 'other', role: 'member' },
  s: { ownerId: 'other', role: 'steward' },
  a: { ownerId: 'other', role: 'admin' },
  // A plate of somebody else, shared to be seen, shared to be run.
  e: { ownerId: 'other', sharing: 'see' },
  r: { ownerId: 'other', sharing: 'run' },
  // What happened on the floor, by somebody else.
  f: { ownerId: 'other', floor: true },
};

const ALL = 'omsaerf';
const NONE = '';
const OWN = 'o';
const OTHERS = 'msaerf';
const A_MEMBER = 'm';

/**
 * What the house agreed on, row by row: for a member, a steward and an admin who steward, and an admin without a
 * sign-off. A steward without one is a member.
 */
const AGREED: { readonly [action in Action]: readonly [string, string, string, string] } = {
  'account-see': [OWN, OWN, OWN, OWN],
  'account-edit': [OWN, OWN, OWN, OWN],
  'member-see': [OWN, ALL, ALL, ALL],
  'member-invite': [NONE, A_MEMBER, ALL, ALL],
  'member-import': [NONE, NONE, ALL, ALL],
  'member-suspend': [NONE, A_MEMBER, OTHERS, OTHERS],
  'member-reset': [NONE, A_MEMBER, OTHERS, OTHERS],
  'member-sign-out': [NONE, A_MEMBER, OTHERS, OTHERS],
  'member-role': [NONE, NONE, ALL, ALL],
  'member-leave': [OWN, OWN, ALL, ALL],
  'induction-read': [ALL, ALL, ALL, ALL],
  'induction-answer': [OWN, OWN, OWN, OWN],
  'induction-witness': [NONE, OTHERS, OTHERS, NONE],
  'induction-edit': [NONE, NONE, ALL, ALL],
  'sign-off-see': [OWN, ALL, ALL, ALL],
  'sign-off-give': [NONE, OTHERS, OTHERS, NONE],
  'sign-off-declare': [NONE, NONE, OWN, OWN],
  'sign-off-revoke': [NONE, OTHERS, OTHERS, NONE],
  'plate-submit': [ALL, ALL, ALL, ALL],
  'plate-see': ['oer', ALL, ALL, 'oer'],
  'plate-revise': [OWN, OWN, OWN, OWN],
  'plate-run': ['or', 'or', 'or', 'or'],
  'plate-share': [OWN, OWN, OWN, OWN],
  'plate-rack': [OWN, ALL, ALL, OWN],
  'plate-hand-over': [OWN, ALL, ALL, OWN],
  'plate-retire': [OWN, ALL, ALL, OWN],
  'plate-photograph': ['or', ALL, ALL, 'or'],
  'bolster-photograph': [NONE, ALL, ALL, NONE],
  'photograph-remove': [OWN, ALL, ALL, OWN],
  'plate-damage-report': ['oer', ALL, ALL, 'oer'],
  'bolster-damage-report': [ALL, ALL, ALL, ALL],
  'damage-close': [NONE, ALL, ALL, NONE],
  'plate-clear': [NONE, OTHERS, OTHERS, NONE],
  'plate-rework': [OWN, ALL, ALL, OWN],
  'booking-see': [ALL, ALL, ALL, ALL],
  'booking-see-whole': [OWN, ALL, ALL, OWN],
  'booking-make': [OWN, OWN, OWN, OWN],
  'booking-move': [OWN, OWN, OWN, OWN],
  'booking-cancel': [OWN, ALL, ALL, OWN],
  'booking-run': [OWN, ALL, ALL, OWN],
  'press-open': [NONE, ALL, ALL, NONE],
  'near-miss-report': [OWN, OWN, OWN, OWN],
  'near-miss-see': [OWN, ALL, ALL, OWN],
  'near-miss-answer': [NONE, ALL, ALL, NONE],
  'sack-see': [ALL, ALL, ALL, ALL],
  'sack-use': [OWN, ALL, ALL, OWN],
  'sack-keep': [NONE, ALL, ALL, NONE],
  'press-see': [ALL, ALL, ALL, ALL],
  'press-service': [NONE, ALL, ALL, NONE],
  'press-edit': [NONE, NONE, ALL, ALL],
  'stock-keep': [NONE, ALL, ALL, ALL],
  'grade-see': [ALL, ALL, ALL, ALL],
  'grade-keep': [NONE, ALL, ALL, NONE],
  'shop-rules-see': [ALL, ALL, ALL, ALL],
  'shop-rules-edit': [NONE, NONE, ALL, ALL],
  'desk-see': [NONE, ALL, ALL, NONE],
  'notice-see': [OWN, OWN, OWN, OWN],
  'audit-see': [OWN, 'of', ALL, ALL],
};

const COLUMNS: readonly Who[] = ['member', 'steward', 'admin', 'admin without a sign-off'];

function reachOf(who: Who, action: Action): string {
  const actor = { memberId: ME, ...CAST[who] };
  return Object.entries(SUBJECTS)
    .filter(([, subject]) => may(actor, action, subject))
    .map(([letter]) => letter)
    .join('');
}

describe('the permission table', () => {
  it.each(Object.keys(PERMISSIONS) as Action[])('%s goes as far as the house agreed', (action) => {
    expect(COLUMNS.map((who) => reachOf(who, action))).toEqual(AGREED[action]);
  });

  it.each(Object.keys(PERMISSIONS) as Action[])(
    '%s of a steward without a sign-off is a member’s',
    (action) => {
      expect(reachOf('steward without a sign-off', action)).toBe(reachOf('member', action));
    },
  );

  it.each(Object.keys(PERMISSIONS) as Action[])(
    '%s is there at all for whom there is something to do it to',
    (action) => {
      for (const who of Object.keys(CAST) as Who[]) {
        expect(mayAtAll({ memberId: ME, ...CAST[who] }, action)).toBe(reachOf(who, action) !== '');
      }
    },
  );
});
