import supertest from 'supertest';
import { checkReportSchema } from '../../server/plates/check-report-schema.js';
import type { TestHouse } from './app.js';
import { signedInMember } from './sign-in.js';

export interface PlateToClear {
  readonly plateId: string;
  /** 1 when left out. */
  readonly revision?: number;
  /** PP alone when left out. */
  readonly polymers?: readonly string[];
  /** The last step to be taken; production when left out. */
  readonly through?: 'fit' | 'trial' | 'production';
  /** As drawn, at all four corners; 16 when left out. */
  readonly thicknessMm?: number;
}

/**
 * Takes a plate through its three steps on the mounted bolster by the API, as a steward made for it, accepting every
 * caution by its name.
 *
 * @returns the last step's clearance and who gave it
 */
export async function clearPlate(house: TestHouse, given: PlateToClear) {
  const { plateId, revision = 1, polymers = ['PP'], through = 'production', thicknessMm = 16 } = given;
  const steward = await signedInMember(house, 'steward');
  const address = `/api/v1/plates/${plateId}/revisions/${revision}`;
  const api = supertest(house.url);
  const clear = async (body: object): Promise<string> => {
    const reply = await api
      .post(`${address}/clearance`)
      .set(steward.headers)
      .send({ decision: 'clear', note: 'For the test.', ...body });
    if (reply.status !== 201) throw new Error(`Clearing answered ${reply.status}: ${reply.text}`);
    return (reply.body as { readonly id: string }).id;
  };
  const measuredThicknessMm = Array.from({ length: 4 }, () => thicknessMm);
  const fitId = await clear({ step: 'fit', measuredThicknessMm });
  if (through === 'fit') return { clearanceId: fitId, steward };
  const trialId = await clear({ step: 'trial' });
  if (through === 'trial') return { clearanceId: trialId, steward };
  const acceptedCautions: { readonly check: string; readonly polymer: string }[] = [];
  for (const polymer of polymers) {
    const report = await api.get(`${address}/check`).query({ polymer }).set(steward.headers).expect(200);
    for (const { check, verdict } of findings(report.body))
      if (verdict === 'caution' || verdict === 'unknown') acceptedCautions.push({ check, polymer });
  }
  const clearanceId = await clear({ step: 'production', polymers, acceptedCautions });
  return { clearanceId, steward };
}

/** Reports that a test wrote by hand hold their findings and little else. */
const findingsOnly = checkReportSchema.shape.findings.element.pick({ check: true, verdict: true });

function findings(report: { readonly findings: readonly unknown[] }) {
  return report.findings.map((one) => findingsOnly.parse(one));
}
