/** Everything a notice can be about: one closed list, each with its sentence in `words/en/notices.ts`. */
export const NOTICE_KINDS = [
  'signed-off',
  'sign-off-revoked',
  'sign-off-lapsing',
  'sign-off-lapsed',
  'witness-wanted',
  'stewarding-declared-anew',
  'role-changed',
  'plate-handed-over',
  'plate-cleared',
  'plate-refused',
  'plate-reworked',
  'plate-clearance-void',
  'plate-bolster-revised',
  'booking-needs-attention',
  'booking-fit-again',
  'plate-says-worse',
  'booking-cancelled',
  'trial-attended',
  'within-call',
  'near-miss-reported',
  'near-miss-answered',
  'damage-reported',
  'damage-closed',
] as const;

export type NoticeKind = (typeof NOTICE_KINDS)[number];

/** What fills a notice's sentence; an instant stands as ISO 8601 with offset. */
export interface NoticeFigures {
  readonly [name: string]: string | number;
}
