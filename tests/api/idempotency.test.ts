import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import type { Actor } from '../../server/context.js';
import { transact } from '../../server/database/transaction.js';
import { idempotent } from '../../server/http/idempotent.js';
import { instant } from '../../server/http/instant.js';
import { Refusal, refuse } from '../../server/reasons.js';
import { testHouse } from '../support/app.js';
import { testDatabase } from '../support/database.js';
import { makeMember } from '../support/sign-in.js';

const house = await testHouse(await testDatabase());
const { database, clock } = house;
const reply = z.object({ id: z.string(), at: instant });
const route = 'POST /things';

/** An actor whose change is a row in the press table, so that it stands or falls with the transaction. */
async function asker() {
  const { id, displayName } = await makeMember(house);
  const actor: Actor = { memberId: id, displayName, role: 'member', stewards: false, sessionIdHash: '' };
  let done = 0;
  const ask = (key: string | undefined, body: unknown, more: { refused?: boolean; route?: string } = {}) =>
    transact(database, (tx) => {
      const ctx = { actor, now: clock.now(), tx };
      return idempotent(ctx, { route: more.route ?? route, key, body, reply }, async () => {
        done += 1;
        const [row] = await tx.query<{ id: string }>('insert into press (name) values ($1) returning id', [
          id,
        ]);
        if (more.refused === true) return refuse('press-taken');
        return { id: row?.id ?? '', at: clock.now() };
      });
    });
  const rows = async () => (await database.query('select from press where name = $1', [id])).length;
  return { ask, rows, times: () => done };
}

describe('a request with a key', () => {
  it('is done once, and answered alike with instants and all', async () => {
    const { ask, rows } = await asker();
    const first = await ask('a', { shots: 10, plate: 'x' });
    clock.turn(5);
    expect(await ask('a', { plate: 'x', shots: 10 })).toEqual(first);
    expect(await rows()).toBe(1);
  });

  it('with another body is refused', async () => {
    const { ask, rows } = await asker();
    await ask('a', { shots: 10 });
    const second = await ask('a', { shots: 11 });
    expect(second).toBeInstanceOf(Refusal);
    expect((second as Refusal).reasons[0].code).toBe('idempotency-key-reused');
    expect((second as Refusal).status).toBe(422);
    expect(await rows()).toBe(1);
  });

  it('that was refused is not kept: the state may have changed', async () => {
    const { ask, rows, times } = await asker();
    expect(await ask('a', {}, { refused: true })).toBeInstanceOf(Refusal);
    expect(await rows()).toBe(0);
    expect(await ask('a', {})).not.toBeInstanceOf(Refusal);
    expect([await rows(), times()]).toEqual([1, 2]);
  });

  it('means something only for its member and route', async () => {
    const [one, other] = [await asker(), await asker()];
    const replies = [
      await one.ask('a', {}),
      await other.ask('a', {}),
      await one.ask('a', {}, { route: 'POST /others' }),
    ];
    expect(new Set(replies.map((given) => JSON.stringify(given))).size).toBe(3);
  });

  it('and without a key is done each time', async () => {
    const { ask, rows } = await asker();
    await ask(undefined, {});
    await ask(undefined, {});
    expect(await rows()).toBe(2);
  });
});

describe('the same key at the same moment', () => {
  it('is done by one, and the others are given its answer', async () => {
    const { ask, rows, times } = await asker();
    const replies = await Promise.all(Array.from({ length: 16 }, () => ask('a', { shots: 1 })));
    expect(new Set(replies.map((given) => JSON.stringify(given))).size).toBe(1);
    expect([await rows(), times()]).toEqual([1, 1]);
  });

  it('with different bodies one wins and the others are refused', async () => {
    const { ask, rows } = await asker();
    const replies = await Promise.all(Array.from({ length: 8 }, (_, shots) => ask('a', { shots })));
    expect(replies.filter((given) => given instanceof Refusal)).toHaveLength(7);
    expect(await rows()).toBe(1);
  });
});
