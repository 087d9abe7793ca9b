/**
 * Everything the trail tells of, and whether it happened on the floor, which stewards see: press time, plates,
 * who may do what with the machine. The rest, such as signing in, is a person's own and an admin's.
 * Each has its sentence in `words/en/audit.ts`.
 */
export const AUDIT_ACTIONS = {
  'makerspace-founded': { floor: true },
  'signed-in': { floor: false },
  'signed-out': { floor: false },
  'signed-out-elsewhere': { floor: false },
  'members-imported': { floor: true },
  'password-changed': { floor: false },
  'password-reset': { floor: false },
  'name-changed': { floor: false },
  'role-changed': { floor: false },
  'reset-handed': { floor: false },
  'member-invited': { floor: true },
  'invitation-withdrawn': { floor: true },
  'member-joined': { floor: true },
  'member-suspended': { floor: true },
  'suspension-ended': { floor: true },
  'member-signed-out': { floor: false },
  'member-left': { floor: true },
  'plate-submitted': { floor: true },
  'plate-revised': { floor: true },
  'plate-renamed': { floor: true },
  'plate-shared': { floor: true },
  'plate-placed': { floor: true },
  'plate-handed-over': { floor: true },
  'plate-retired': { floor: true },
  'plate-taken-up': { floor: true },
  'photograph-kept': { floor: true },
  'photograph-removed': { floor: true },
  'plate-cleared': { floor: true },
  'plate-refused': { floor: true },
  'plate-reworked': { floor: true },
  'plate-clearance-void': { floor: true },
  'booking-made': { floor: true },
  'booking-moved': { floor: true },
  'booking-cancelled': { floor: true },
  'booking-needs-attention': { floor: true },
  'booking-fit-again': { floor: true },
  'witness-asked': { floor: true },
  'signed-off': { floor: true },
  'sign-off-revoked': { floor: true },
  'founding-declaration': { floor: true },
  'stewarding-declared-anew': { floor: true },
  'competence-added': { floor: true },
  'induction-written': { floor: true },
  'shop-rules-set': { floor: true },
  'closure-made': { floor: true },
  'closure-lifted': { floor: true },
} as const satisfies { readonly [action: string]: { readonly floor: boolean } };

export type AuditAction = keyof typeof AUDIT_ACTIONS;

/** The actions that stewards see whoever did them. */
export const FLOOR_ACTIONS = Object.entries(AUDIT_ACTIONS)
  .filter(([, { floor }]) => floor)
  .map(([action]) => action);
