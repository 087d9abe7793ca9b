import { describe, expect, it } from 'vitest';
import { dewPointC } from '../../../server/engineering/heat/dew-point.js';
import { steadyC, warmingC } from '../../../server/engineering/heat/thermal-network.js';

describe('a network of lumps', () => {
  it('one lump in air: T = Troom + (P/G)(1 - exp(-t G/C)), the lumped-capacity solution', () => {
    const network = {
      nodes: [{ capacityJPerK: 1200, inputW: 180 }],
      links: [{ from: 0, toC: 20, conductanceWPerK: 3 }],
    };
    expect(steadyC(network)[0]).toBeCloseTo(20 + 180 / 3, 9);
    const rows = warmingC(network, 20, 10, 240);
    for (const step of [1, 40, 240]) {
      const exact = 20 + 60 * (1 - Math.exp((-step * 10 * 3) / 1200));
      expect(rows[step]?.[0]).toBeCloseTo(exact, 1);
    }
  });

  it('heat in series: each difference is the flow over its conductance', () => {
    const network = {
      nodes: [
        { capacityJPerK: 1000, inputW: 100 },
        { capacityJPerK: 9000, inputW: 0 },
      ],
      links: [
        { from: 0, to: 1, conductanceWPerK: 50 },
        { from: 1, toC: 20, conductanceWPerK: 4 },
      ],
    };
    const [plate, half] = steadyC(network);
    expect(half).toBeCloseTo(20 + 100 / 4, 9);
    expect((plate ?? NaN) - (half ?? NaN)).toBeCloseTo(100 / 50, 9);
  });

  it('two lumps cut off from the air keep their heat between them', () => {
    const network = {
      nodes: [
        { capacityJPerK: 500, inputW: 0 },
        { capacityJPerK: 1500, inputW: 0 },
      ],
      links: [{ from: 0, to: 1, conductanceWPerK: 10 }],
    };
    const heated = {
      ...network,
      nodes: [
        { capacityJPerK: 500, inputW: 50 },
        network.nodes[1] as { capacityJPerK: number; inputW: number },
      ],
    };
    const last = warmingC(heated, 20, 5, 400).at(-1) as readonly number[];
    const stored = 500 * ((last[0] as number) - 20) + 1500 * ((last[1] as number) - 20);
    expect(stored).toBeCloseTo(50 * 5 * 400, 4);
    expect(() => steadyC(network)).toThrow(RangeError);
  });

  it('ends where nothing changes any more', () => {
    const network = {
      nodes: [
        { capacityJPerK: 800, inputW: 120 },
        { capacityJPerK: 4000, inputW: 10 },
        { capacityJPerK: 9000, inputW: 0 },
      ],
      links: [
        { from: 0, to: 1, conductanceWPerK: 30 },
        { from: 1, to: 2, conductanceWPerK: 40 },
        { from: 2, toC: 18, conductanceWPerK: 5 },
        { from: 0, toC: 18, conductanceWPerK: 0.5 },
      ],
    };
    const last = warmingC(network, 18, 60, 1200).at(-1) as readonly number[];
    for (const [i, value] of steadyC(network).entries()) expect(last[i]).toBeCloseTo(value, 3);
  });
});

/** Psychrometric tables: 20 deg C at 50 % has its dew point at 9.3, at 60 % at 12.0 deg C (handbook value, from memory). */
it.each([
  [20, 50, 9.3],
  [20, 60, 12],
  [25, 100, 25],
])('air of %s deg C at %s %% wets what is colder than %s', (roomC, humidity, dewC) => {
  expect(dewPointC(roomC, humidity)).toBeCloseTo(dewC, 1);
});
