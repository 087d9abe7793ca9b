/** Somebody who holds more press time than a quota would give them. */
export interface AboveQuota {
  readonly memberId: string;
  readonly displayName: string;
  /** `2026-12`, of the quota a month; null: of the quota of what is still to come. */
  readonly month: string | null;
  readonly hours: number;
  readonly limitHours: number;
}
