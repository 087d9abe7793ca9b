import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { standingClearance } from '../../server/plates/clearance/standing.js';
import { testHouse } from '../support/app.js';
import { clearPlate } from '../support/cleared-plate.js';
import { testDatabase } from '../support/database.js';
import { furnishPress } from '../support/gullwing-house.js';
import { LONG_AGO } from '../support/plain-rows.js';
import { plateBody } from '../support/plate-bodies.js';
import { signedInMember } from '../support/sign-in.js';

const database = await testDatabase();
const house = await testHouse(database);
const { bolsterId } = await furnishPress(database, LONG_AGO);
const api = supertest(house.url);
const wren = await signedInMember(house);

async function newPlate(more: object = {}, headers = wren.headers): Promise<string> {
  const body = { name: 'Tile spacer', ...plateBody('tile-spacer-4up', more) };
  const reply = await api.post('/api/v1/plates').set(headers).send(body).expect(201);
  return (reply.body as { readonly id: string }).id;
}

const standing = (plateId: string, revision = 1) =>
  standingClearance(database, { plateId, revision, bolsterId, bolsterVersion: 1 });

describe('the three steps', () => {
  it('take a plate from fit to production', async () => {
    const plateId = await newPlate();
    expect(await standing(plateId)).toMatchObject({ reached: 'none', clearanceId: null });
    const { clearanceId } = await clearPlate(house, { plateId, polymers: ['PP', 'HDPE'] });
    expect(await standing(plateId)).toMatchObject({
      reached: 'production',
      clearanceId,
      polymers: ['HDPE', 'PP'],
    });
  });
});
