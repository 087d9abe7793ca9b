import supertest from 'supertest';
import { expect, it } from 'vitest';
import { bolsterPage } from '../../server/press/schemas.js';
import {
  bolsterById,
  bolsterVersion,
  mountedBolster,
  pressById,
  thePress,
} from '../../server/press/store.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { demoBolster, demoPress, keyedBolster } from '../support/gullwing.js';
import { furnishPress } from '../support/gullwing-house.js';

const house = await testHouse(await testDatabase());

it('is empty while there is no press, and nothing is mounted', async () => {
  const reply = await supertest(house.url).get('/api/v1/bolsters').expect(200);
  expect(reply.body).toEqual({ items: [], next: null });
  expect(await mountedBolster(house.database)).toBeUndefined();
  expect(await thePress(house.database)).toBeUndefined();
});

it('shows bolsters, the mounted one first, as they were recorded', async () => {
  const { bolsterId, keyedBolsterId, pressId } = await furnishPress(house.database, house.clock.now());
  const reply = await supertest(house.url).get('/api/v1/bolsters').expect(200);
  const { items } = bolsterPage.parse(reply.body);
  expect(items.map(({ id, mounted, version }) => [id, mounted, version])).toEqual([
    [bolsterId, true, 1],
    [keyedBolsterId, false, 1],
  ]);
  expect(items[0]).toMatchObject({
    pressId,
    face: { widthMm: 200, heightMm: 160, material: 'steel', allowablePressureMpa: 250, openings: [] },
    sprue: { lengthMm: 20, nozzleEndDiameterMm: 2.5, partingFaceDiameterMm: 3.5 },
    daylight: { minimumMm: 12, largestStackMm: 60 },
  });
  expect(items.map(({ holes }) => holes.length)).toEqual([20, 19]);
  expect(items[0]?.holes[0]).toEqual({ xMm: -80, yMm: -60, thread: 'M6', depthMm: 15, positionMm: 0.05 });
});

it('gives the engine the facts that were put in, and old versions stay', async () => {
  const mounted = await mountedBolster(house.database);
  expect(mounted?.facts).toEqual(demoBolster);
  const press = await thePress(house.database);
  expect(press).toMatchObject({ version: 1, facts: demoPress });
  expect(await pressById(house.database, mounted?.pressId ?? '')).toEqual(press);

  await house.database.query(
    `insert into bolster_version select bolster_id, 2, face_width_mm, face_height_mm, face_centre_x_mm,
       face_centre_y_mm, face_material, allowable_face_pressure_mpa, $2::jsonb, face_openings, sprue_length_mm,
       sprue_nozzle_end_mm, sprue_parting_face_mm, 13, largest_stack_mm, created_at
     from bolster_version where bolster_id = $1`,
    [
      mounted?.id ?? '',
      JSON.stringify(keyedBolster.holes.map(({ at, ...hole }) => ({ xMm: at.x, yMm: at.y, ...hole }))),
    ],
  );
  const latest = await bolsterById(house.database, mounted?.id ?? '');
  const bare = { minimumDaylightMm: 13, halfThicknessMm: null, halfMaterial: null };
  expect(latest).toMatchObject({ version: 2, facts: { ...keyedBolster, ...bare } });
  expect(await mountedBolster(house.database)).toEqual(latest);
  expect(await bolsterVersion(house.database, mounted?.id ?? '', 1)).toEqual(mounted);
  expect(await bolsterVersion(house.database, mounted?.id ?? '', 3)).toBeUndefined();
});
