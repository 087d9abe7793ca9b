import supertest from 'supertest';
import type { TestHouse } from './app.js';

type Headers = { readonly authorization: string };

/** Changes of press and bolster over the API, as an admin makes them. */
export function groundChanges(house: TestHouse, headers: Headers) {
  const api = supertest(house.url);
  const bolsters = async () => (await api.get('/api/v1/bolsters').set(headers).expect(200)).body.items;

  return {
    /** The next version of a bolster, with a minimum daylight of its own. */
    async editBolster(bolsterId: string, minimumDaylightMm: number) {
      const { body } = await api.get(`/api/v1/bolsters/${bolsterId}`).set(headers).expect(200);
      const { id, name, version, mounted, pressId, ...facts } = body;
      const daylight = { ...facts.daylight, minimumMm: minimumDaylightMm };
      return api
        .post(`/api/v1/bolsters/${bolsterId}/versions`)
        .set(headers)
        .send({ facts: { ...facts, daylight }, basedOn: version, why: 'For the test.' });
    },

    /** The next version of the press, with a clamp force of its own; `preview` only asks what it would do. */
    async editPress(maxKn: number, preview = false) {
      const { body } = await api.get('/api/v1/press').set(headers).expect(200);
      const { id, name, version, mountedBolsterId, ...facts } = body;
      const wish = { facts: { ...facts, clamp: { ...facts.clamp, maxKn } }, basedOn: version };
      return preview
        ? api.post('/api/v1/press/preview').set(headers).send(wish)
        : api
            .post('/api/v1/press/versions')
            .set(headers)
            .send({ ...wish, why: 'For the test.' });
    },

    async mount(bolsterId: string) {
      const mounted = (await bolsters()).find((one: { mounted: boolean }) => one.mounted);
      return api
        .post(`/api/v1/bolsters/${bolsterId}/mounting`)
        .set(headers)
        .send({ insteadOf: mounted?.id ?? null, why: 'For the test.' });
    },
  };
}
