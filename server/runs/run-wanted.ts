import type { PreUseLine } from './pre-use.js';

/** Who would come if called: a member, or somebody who is not one. */
export type WithinCall = { readonly memberId: string } | { readonly name: string };

export interface RunWanted {
  readonly bookingId: string;
  readonly preUse: readonly PreUseLine[];
  readonly withinCall: WithinCall | null;
  /** For a trial: the steward who stands by. */
  readonly attendedBy: string | null;
}
