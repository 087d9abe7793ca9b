import { describe, expect, it } from 'vitest';
import type { Asker } from '../../server/http/asker.js';
import { createTurns, type EndTurn } from '../../server/plates/turns.js';

const stranger = (name: string): Asker => ({ name, member: false });
const member = (name: string): Asker => ({ name, member: true });

/** Turns for three at once, with a note of who is working; `ask` gives false where the line is full. */
function floor(limits: Partial<Parameters<typeof createTurns>[0]> = {}) {
  const turns = createTurns({ places: 3, placesForStrangers: 2, placesForOne: 1, waitingMax: 4, ...limits });
  const working: string[] = [];
  const ends = new Map<string, EndTurn[]>();
  const ask = (asker: Asker): boolean => {
    const turn = turns.take(asker);
    turn?.then((end) => {
      working.push(asker.name);
      ends.set(asker.name, [...(ends.get(asker.name) ?? []), end]);
    });
    return turn !== undefined;
  };
  const end = async (name: string) => {
    working.splice(working.indexOf(name), 1);
    ends.get(name)?.shift()?.();
    await settled();
  };
  return { turns, working, ask, end };
}

/** Lets everybody who may work begin. */
const settled = () => new Promise((done) => setImmediate(done));

describe('turns', () => {
  it('leave one place to members, however many strangers come', async () => {
    const { working, ask } = floor();
    for (const name of ['a', 'b', 'c', 'd']) ask(stranger(name));
    await settled();
    expect(working).toEqual(['a', 'b']);
    ask(member('wren'));
    await settled();
    expect(working).toEqual(['a', 'b', 'wren']);
  });

  it('give nobody more than their share, and the rest to who waits behind', async () => {
    const { working, ask, end } = floor();
    for (const name of ['a', 'a', 'a', 'b']) ask(stranger(name));
    await settled();
    expect(working).toEqual(['a', 'b']);
    await end('a');
    expect(working).toEqual(['b', 'a']);
  });

  it('go to members first, then to who came first', async () => {
    const { working, ask, end } = floor({ places: 1, placesForStrangers: 1 });
    for (const name of ['a', 'b', 'c']) ask(stranger(name));
    ask(member('wren'));
    await settled();
    const order: string[] = [];
    for (let i = 0; i < 4; i++) {
      const [name = ''] = working;
      order.push(name);
      await end(name);
    }
    expect(order).toEqual(['a', 'wren', 'b', 'c']);
  });

  it('are full for strangers alone when strangers fill the line, and for one when that one fills half', async () => {
    const { ask } = floor();
    for (const name of ['a', 'b']) ask(stranger(name));
    expect([ask(stranger('a')), ask(stranger('a')), ask(stranger('a'))]).toEqual([true, true, false]);
    expect([ask(stranger('c')), ask(stranger('d')), ask(stranger('e'))]).toEqual([true, true, false]);
    expect([ask(member('wren')), ask(member('wren'))]).toEqual([true, true]);
  });

  it('let everybody in at once when it is over', async () => {
    const { turns, working, ask } = floor({ places: 1, placesForStrangers: 1 });
    for (const name of ['a', 'b', 'c']) ask(stranger(name));
    turns.letAllIn();
    await settled();
    expect(working.sort()).toEqual(['a', 'b', 'c']);
  });

  it('are taken by each exactly once, in whatever order they come and end', async () => {
    const seed = 20_260_301;
    const names = ['a', 'b', 'c', 'd', 'e'];
    const { working, ask, end } = floor({ waitingMax: 1000 });
    let state = seed;
    const random = (below: number) => {
      state = (state * 1_103_515_245 + 12_345) % 2_147_483_648;
      return Math.floor((state / 2_147_483_648) * below);
    };
    let asked = 0;
    let ended = 0;
    while (ended < 400) {
      if (asked < 400 && random(2) === 0) {
        const name = names[random(names.length)] ?? '';
        ask(random(2) === 0 ? stranger(name) : member(name.toUpperCase()));
        asked += 1;
        await settled();
      } else if (working.length > 0) {
        await end(working[random(working.length)] ?? '');
        ended += 1;
      }
      const strangers = working.filter((name) => name === name.toLowerCase());
      expect(strangers.length, `seed ${seed}`).toBeLessThanOrEqual(2);
      expect(working.length, `seed ${seed}`).toBeLessThanOrEqual(3);
      expect(new Set(working).size, `seed ${seed}`).toBe(working.length);
    }
  });
});
