import type { CheckingHouse } from '../checking-house.js';

/** A run of a plate, as its history tells of it. */
export interface PlateRun {
  readonly id: string;
  /** Whose booking it is. */
  readonly memberId: string;
  readonly revision: number;
  readonly polymer: string;
  readonly kind: 'trial' | 'production';
  readonly openedAt: Date;
  readonly openedByName: string;
  readonly outcome: string | null;
}

/** What a plate's history is given: checks, and what the rooms of bookings and runs, which come later, know of it. */
export interface HistoryHouse extends CheckingHouse {
  /** First to last. */
  readonly runsOfPlate: (plateId: string) => Promise<readonly PlateRun[]>;
  readonly bookingsOfPlate: (
    plateId: string,
  ) => Promise<{ readonly bookings: number; readonly coming: number }>;
}
