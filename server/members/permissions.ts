import type { Actor, Role } from '../context.js';
import { type Refusal, refuse } from '../reasons.js';

/**
 * How far a right goes: over nothing, one's own, everybody else's, what is shared (one's own too), other people
 * of the role member, what happened on the floor, or everything.
 */
export type Reach = 'never' | 'own' | 'others' | 'to-see' | 'to-run' | 'members' | 'floor' | 'all';

interface Rights {
  /** Everybody who is signed in has these. */
  readonly member: Reach;
  /** Added for who stewards: the role and a standing sign-off for it. */
  readonly steward: Reach;
  /** Added for an admin, with that sign-off or without. */
  readonly admin: Reach;
}

/**
 * Who may do what. A right is the sum of its columns: an admin without a `stewarding` sign-off has the first and
 * the last, a steward without it the first alone.
 */
export const PERMISSIONS = {
  'account-see': { member: 'own', steward: 'never', admin: 'never' },
  'account-edit': { member: 'own', steward: 'never', admin: 'never' },
  'member-see': { member: 'own', steward: 'all', admin: 'all' },
  'member-invite': { member: 'never', steward: 'members', admin: 'all' },
  'member-import': { member: 'never', steward: 'never', admin: 'all' },
  'member-suspend': { member: 'never', steward: 'members', admin: 'others' },
  'member-reset': { member: 'never', steward: 'members', admin: 'others' },
  'member-sign-out': { member: 'never', steward: 'members', admin: 'others' },
  'member-role': { member: 'never', steward: 'never', admin: 'all' },
  'member-leave': { member: 'own', steward: 'never', admin: 'all' },

  'induction-read': { member: 'all', steward: 'all', admin: 'all' },
  'induction-answer': { member: 'own', steward: 'never', admin: 'never' },
  'induction-witness': { member: 'never', steward: 'others', admin: 'never' },
  'induction-edit': { member: 'never', steward: 'never', admin: 'all' },
  'sign-off-see': { member: 'own', steward: 'all', admin: 'all' },
  'sign-off-give': { member: 'never', steward: 'others', admin: 'never' },
  'sign-off-declare': { member: 'never', steward: 'never', admin: 'own' },
  'sign-off-revoke': { member: 'never', steward: 'others', admin: 'never' },

  'plate-submit': { member: 'all', steward: 'all', admin: 'all' },
  'plate-see': { member: 'to-see', steward: 'all', admin: 'never' },
  'plate-revise': { member: 'own', steward: 'never', admin: 'never' },
  'plate-run': { member: 'to-run', steward: 'never', admin: 'never' },
  'plate-share': { member: 'own', steward: 'never', admin: 'never' },
  'plate-rack': { member: 'own', steward: 'all', admin: 'never' },
  'plate-hand-over': { member: 'own', steward: 'all', admin: 'never' },
  'plate-retire': { member: 'own', steward: 'all', admin: 'never' },
  'plate-photograph': { member: 'to-run', steward: 'all', admin: 'never' },
  'bolster-photograph': { member: 'never', steward: 'all', admin: 'never' },
  'photograph-remove': { member: 'own', steward: 'all', admin: 'never' },
  'plate-damage-report': { member: 'to-see', steward: 'all', admin: 'never' },
  'bolster-damage-report': { member: 'all', steward: 'all', admin: 'all' },
  'damage-close': { member: 'never', steward: 'all', admin: 'never' },
  'plate-clear': { member: 'never', steward: 'others', admin: 'never' },
  'plate-rework': { member: 'own', steward: 'all', admin: 'never' },

  'booking-see': { member: 'all', steward: 'all', admin: 'all' },
  'booking-see-whole': { member: 'own', steward: 'all', admin: 'never' },
  'booking-make': { member: 'own', steward: 'never', admin: 'never' },
  'booking-move': { member: 'own', steward: 'never', admin: 'never' },
  'booking-cancel': { member: 'own', steward: 'all', admin: 'never' },
  'booking-run': { member: 'own', steward: 'all', admin: 'never' },
  'press-open': { member: 'never', steward: 'all', admin: 'never' },

  'near-miss-report': { member: 'own', steward: 'never', admin: 'never' },
  'near-miss-see': { member: 'own', steward: 'all', admin: 'never' },
  'near-miss-answer': { member: 'never', steward: 'all', admin: 'never' },

  'sack-see': { member: 'all', steward: 'all', admin: 'all' },
  'sack-use': { member: 'own', steward: 'all', admin: 'never' },
  'sack-keep': { member: 'never', steward: 'all', admin: 'never' },

  'grade-see': { member: 'all', steward: 'all', admin: 'all' },
  'grade-keep': { member: 'never', steward: 'all', admin: 'never' },

  'press-see': { member: 'all', steward: 'all', admin: 'all' },
  'press-service': { member: 'never', steward: 'all', admin: 'never' },
  'press-edit': { member: 'never', steward: 'never', admin: 'all' },
  'stock-keep': { member: 'never', steward: 'all', admin: 'all' },
  'shop-rules-see': { member: 'all', steward: 'all', admin: 'all' },
  'shop-rules-edit': { member: 'never', steward: 'never', admin: 'all' },

  'desk-see': { member: 'never', steward: 'all', admin: 'never' },
  'notice-see': { member: 'own', steward: 'never', admin: 'never' },
  'audit-see': { member: 'own', steward: 'floor', admin: 'all' },
} as const satisfies { readonly [action: string]: Rights };

export type Action = keyof typeof PERMISSIONS;

/** What a right is asked for; what is left out is nobody's, shared with nobody, and has no role. */
export interface Subject {
  /** The member whose it is; of a member, themselves; of an entry in the trail, who did it. */
  readonly ownerId?: string;
  /** Of a plate: what its owner lets others do with it. */
  readonly sharing?: 'nobody' | 'see' | 'run';
  /** Of a member: the role they have, or are to have. */
  readonly role?: Role;
  /** Of an entry in the trail: whether it is about the floor. */
  readonly floor?: boolean;
}

type Asking = Pick<Actor, 'memberId' | 'role' | 'stewards'>;

/** Whether this member may do this to that. */
export function may(actor: Asking, action: Action, subject: Subject = {}): boolean {
  return reachesOf(actor, action).some((reach) => REACHES[reach](actor, subject));
}

/** Whether there is anything this member could do it to: what a page asks before it shows a way there. */
export function mayAtAll(actor: Asking, action: Action): boolean {
  return reachesOf(actor, action).some((reach) => reach !== 'never');
}

/**
 * Why this member may not do this to that; `undefined` where they may. What they may not even see is not there.
 *
 * @param seen the right by which it is seen, and what it is called; without it, it is there for everybody
 */
export function refusalUnless(
  actor: Asking,
  action: Action,
  subject: Subject,
  seen?: { readonly by: Action; readonly what: string },
): Refusal | undefined {
  if (may(actor, action, subject)) return undefined;
  if (seen !== undefined && !may(actor, seen.by, subject)) {
    return refuse('not-found', { figures: { what: seen.what } });
  }
  return refuse('not-allowed', { figures: { needs: neededFor(action, subject) } });
}

function reachesOf({ role, stewards }: Asking, action: Action): readonly Reach[] {
  const { member, steward, admin } = PERMISSIONS[action];
  return [member, ...(stewards ? [steward] : []), ...(role === 'admin' ? [admin] : [])];
}

const REACHES = {
  never: () => false,
  own: (actor, { ownerId }) => ownerId === actor.memberId,
  others: (actor, { ownerId }) => ownerId !== actor.memberId,
  'to-see': (actor, { ownerId, sharing = 'nobody' }) => ownerId === actor.memberId || sharing !== 'nobody',
  'to-run': (actor, { ownerId, sharing }) => ownerId === actor.memberId || sharing === 'run',
  members: (actor, { ownerId, role }) => ownerId !== actor.memberId && role === 'member',
  floor: (actor, { ownerId, floor }) => ownerId === actor.memberId || floor === true,
  all: () => true,
} as const satisfies { readonly [reach in Reach]: (actor: Asking, subject: Subject) => boolean };

/** Who could do it to that: the least of the house, another than its owner, or its owner alone. */
function neededFor(action: Action, subject: Subject): string {
  const somebody = { memberId: '', role: 'member', stewards: false } as const;
  if (may({ ...somebody, stewards: true }, action, subject)) return 'a steward';
  if (may({ ...somebody, role: 'admin' }, action, subject)) return 'an admin';
  return 'the one whose it is';
}
