import supertest from 'supertest';
import { describe, expect, it } from 'vitest';
import { InstallationRefused, prepareInstallation } from '../../server/members/installation.js';
import { mountedBolster, thePress } from '../../server/press/store.js';
import { readSettings } from '../../server/settings.js';
import { rulesAt } from '../../server/shop/store.js';
import { type TestHouse, testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { demoBolster, demoPress } from '../support/gullwing.js';
import { formTokenOf, visitorOf } from '../support/requests.js';

const FORM = {
  email: 'Founder@Gullwing.example',
  displayName: 'Wren',
  password: 'heron under a wet slate roof',
  declared: 'yes',
  makerspaceName: 'Gullwing Yard',
  timeZone: 'Europe/Dublin',
  monday: '',
  tuesday: '9-22',
  wednesday: '9:30 - 12:00, 13:00-22:00',
  thursday: '09:00-22:00',
  friday: '9-24',
  saturday: '10-18',
  sunday: '',
  pressName: 'Press',
  clampKind: 'hydraulic',
  clampMinKn: '50',
  clampMaxKn: '500',
  tieBarsWidthMm: '320',
  tieBarsHeightMm: '320',
  platensGuided: '',
  openingStrokeMm: '180',
  screwDiameterMm: '28',
  shotCm3: '60',
  maxPressureMpa: '160',
  maxFlowCm3PerS: '70',
  barrelShots: '2',
  nozzleOrificeMm: '2,0',
  bolsterName: 'Grid',
  faceWidthMm: '200',
  faceHeightMm: '160',
  faceMaterial: 'steel',
  allowableFacePressureMpa: '250',
  thread: 'M6',
  holeColumns: '5',
  holeRows: '4',
  pitchXMm: '40',
  pitchYMm: '40',
  holeDepthMm: '15',
  holePositionMm: '0,05',
  sprueLengthMm: '20',
  sprueNozzleEndMm: '2.5',
  spruePartingFaceMm: '3,5',
  minimumDaylightMm: '12',
  largestStackMm: '60',
};

async function newHouse(): Promise<TestHouse & { link: string }> {
  const house = await testHouse(await testDatabase(), { withRules: false });
  if (house.firstRunPath === undefined) throw new Error('A new house has no link.');
  return { ...house, link: house.firstRunPath };
}

describe('founding a makerspace', async () => {
  const house = await newHouse();

  it('is what the first page says is missing', async () => {
    const { text } = await supertest(house.url).get('/').expect(200);
    expect(text).toContain('one-time link');
  });

  it('names every field that is wrong, keeps the rest, and writes nothing', async () => {
    const wrong = {
      password: 'short',
      timeZone: 'Atlantis',
      monday: 'all day',
      clampMaxKn: '40',
      pitchXMm: 'x',
      holeRows: '1.5',
    };
    const reply = await visitorOf(house).submit(house.link, house.link, { ...FORM, ...wrong });
    expect(reply.status).toBe(422);
    for (const field of Object.keys(wrong)) {
      if (field !== 'password' && field !== 'clampMaxKn') expect(reply.text).toContain(`href="#${field}"`);
    }
    expect(reply.text).toContain(`value="${FORM.displayName}"`);
    expect(await thePress(house.database)).toBeUndefined();
    const crossed = { ...FORM, password: 'Gullwing Yard Wren 1', clampMaxKn: '40' };
    const { text } = await visitorOf(house).submit(house.link, house.link, crossed);
    expect(text).toContain('names that belong to you');
    expect(text).toContain('more than the least force');
    expect(text).not.toContain('Gullwing Yard Wren 1');
  });

  it('shows what is wrong between fields together with what is wrong in one', async () => {
    const both = { ...FORM, displayName: '', password: 'gullwing yard', clampMinKn: '600', pitchXMm: '90' };
    const { text } = await visitorOf(house).submit(house.link, house.link, both);
    const named = [...text.matchAll(/href="#(\w+)"/g)].map(([, field]) => field);
    expect(named.filter((field) => field !== 'main')).toEqual([
      'displayName',
      'password',
      'clampMaxKn',
      'pitchXMm',
    ]);
  });

  it('founds nothing without the declaration that the first sign-offs rest on', async () => {
    const { declared: _, ...without } = FORM;
    const reply = await visitorOf(house).submit(house.link, house.link, without);
    expect(reply.status).toBe(422);
    expect(reply.text).toContain('href="#declared"');
    expect(await thePress(house.database)).toBeUndefined();
  });

  it('makes admin, rules, press and bolster, once', async () => {
    const visitor = visitorOf(house);
    const reply = await visitor.submit(house.link, house.link, FORM);
    expect([reply.status, reply.headers.location]).toEqual([303, '/sign-in']);
    const clamp = { ...demoPress.clamp, platensGuided: false };
    // What the guided page does not ask for is not known.
    const unasked = { chiller: null, dryCycleS: null, intensification: null, platenThicknessMm: null };
    expect((await thePress(house.database))?.facts).toEqual({ ...demoPress, clamp, ...unasked });
    const heat = { halfThicknessMm: null, halfMaterial: null };
    expect((await mountedBolster(house.database))?.facts).toEqual({ ...demoBolster, ...heat });
    const rules = await rulesAt(house.database, house.clock.now());
    expect(rules).toMatchObject({ version: 1, makerspaceName: 'Gullwing Yard', timeZone: 'Europe/Dublin' });
    expect(rules.openingHours).toMatchObject({
      monday: [],
      wednesday: [
        { opens: '09:30', closes: '12:00' },
        { opens: '13:00', closes: '22:00' },
      ],
      friday: [{ opens: '09:00', closes: '24:00' }],
    });
    const signedIn = await supertest(house.url)
      .post('/api/v1/session')
      .send({ email: 'founder@gullwing.example', password: FORM.password })
      .expect(201);
    expect(signedIn.body.member.role).toBe('admin');
    const spent = await visitor.get(house.link).expect(404);
    expect(spent.text).toContain('has been used');
  });

  it('is not offered again', async () => {
    expect(
      (await prepareInstallation(house.database, house.settings, new Date(), null)).firstRunPath,
    ).toBeUndefined();
  });
});

describe('the link', async () => {
  const [one, restarted, raced] = [await newHouse(), await newHouse(), await newHouse()];

  it('made up opens nothing', async () => {
    await visitorOf(one)
      .get(`/first-run/${'A'.repeat(43)}`)
      .expect(404);
    await visitorOf(one).get(one.link).expect(200);
  });

  it('of an earlier start opens nothing once there is a newer one', async () => {
    const { database, settings, link } = restarted;
    const { firstRunPath = '' } = await prepareInstallation(database, settings, new Date(), null);
    await visitorOf(restarted).get(link).expect(404);
    await visitorOf(restarted).get(firstRunPath).expect(200);
  });

  it('founds one makerspace when several send the form at once', async () => {
    const visitors = Array.from({ length: 8 }, () => visitorOf(raced));
    const pages = await Promise.all(visitors.map((visitor) => visitor.get(raced.link).expect(200)));
    const replies = await Promise.all(
      visitors.map((visitor, i) => {
        const _csrf = formTokenOf(pages[i]?.text ?? '');
        return visitor.post(raced.link, { ...FORM, _csrf, email: `founder-${i}@gullwing.example` });
      }),
    );
    expect(replies.map(({ status }) => status).sort()).toEqual([303, ...Array<number>(7).fill(404)]);
    const members = await raced.database.query('select from member');
    const presses = await raced.database.query('select from press');
    expect([members.length, presses.length]).toEqual([1, 1]);
  });
});

describe('a demo', async () => {
  const settings = readSettings({ NODE_ENV: 'test' });
  const [plain, atHome, raced] = [await testDatabase(), await testDatabase(), await testDatabase()];
  const seeded: string[] = [];
  const seed = async () => {
    seeded.push('seeded');
  };

  it.each([
    ['an address others can reach', { host: '0.0.0.0' }],
    ['a name others can call', { publicUrl: 'https://press.example.org' }],
    ['a name that begins like an address', { publicUrl: 'http://127.0.0.1.example.org' }],
    ['a proxy in front', { trustProxy: 1 }],
    ['proxies in front', { trustProxy: ['10.0.0.0/8'] }],
    ['a database of the operator’s', { databaseUrl: 'postgresql://db.example/platenshare' }],
    ['production', { production: true }],
    ['a setting against it', { demo: 'off' as const }],
  ])('is not made with %s', async (_name, against) => {
    await plain.query('delete from installation');
    const made = await prepareInstallation(plain, { ...settings, ...against }, new Date(), seed);
    expect(made).toMatchObject({
      demo: false,
      firstRunPath: expect.stringMatching(/^\/first-run\/[\w-]{43}$/),
    });
    expect(seeded).toEqual([]);
  });

  it.each(['127.0.0.1', '127.0.0.53', '::1', 'localhost'])(
    'is made once on %s, and not served to others',
    async (host) => {
      await atHome.query('delete from installation');
      seeded.length = 0;
      for (let start = 0; start < 2; start++) {
        expect((await prepareInstallation(atHome, { ...settings, host }, new Date(), seed)).demo).toBe(true);
      }
      expect(seeded).toEqual(['seeded']);
      for (const open of [
        { production: true },
        { host: '0.0.0.0' },
        { publicUrl: 'https://press.example.org' },
        { trustProxy: 1 },
      ]) {
        const refusal = prepareInstallation(atHome, { ...settings, host, ...open }, new Date(), seed);
        await expect(refusal).rejects.toThrow(InstallationRefused);
      }
    },
  );

  it.each(['http://localhost:3000', 'http://127.0.0.1', 'https://[::1]:3000'])(
    'is made where people call it %s',
    async (publicUrl) => {
      await atHome.query('delete from installation');
      const made = await prepareInstallation(atHome, { ...settings, publicUrl }, new Date(), seed);
      expect(made.demo).toBe(true);
    },
  );

  it('is made by one of several that start at once', async () => {
    seeded.length = 0;
    await Promise.all([1, 2, 3].map(() => prepareInstallation(raced, settings, new Date(), seed)));
    expect(seeded).toEqual(['seeded']);
  });
});
