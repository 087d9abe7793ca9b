import type { Queryable } from '../../database/queryable.js';

/** A plate's latest revision that stands cleared for production somewhere, in one resin. */
export interface InProduction {
  readonly plateId: string;
  readonly plateName: string;
  readonly ownerId: string;
  readonly ownerName: string;
  readonly revision: number;
  readonly polymer: string;
  /** The report that was accepted, of the latest such clearance. */
  readonly reportId: string;
}

/** Every plate that is cleared for production on whatever bolster and version of it, in each of its resins. */
export async function platesInProduction(db: Queryable): Promise<readonly InProduction[]> {
  return await db.query<InProduction>(
    `select distinct on (c.plate_id, r.polymer) c.plate_id as "plateId", p.name as "plateName",
       p.owner_id as "ownerId", m.display_name as "ownerName", c.revision, r.polymer, r.report_id as "reportId"
     from clearance c
     join plate p on p.id = c.plate_id and p.latest_revision = c.revision and p.retired_at is null
     join member m on m.id = p.owner_id
     join clearance_report r on r.clearance_id = c.id
     where c.step = 'production' and c.decision = 'clear' and not exists (
       select from clearance l where l.plate_id = c.plate_id and l.revision = c.revision
         and l.bolster_id = c.bolster_id and l.bolster_version = c.bolster_version
         and l.place > c.place and l.decision <> 'clear')
     order by c.plate_id, r.polymer, c.place desc`,
  );
}
