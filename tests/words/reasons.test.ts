import { describe, expect, it } from 'vitest';
import { REASON_CODES, type Reason, statusOfReason } from '../../server/reasons.js';
import { PASSWORD_FAULTS } from '../../server/words/en/passwords.js';
import { titleOfStatus, wordReason } from '../../server/words/index.js';

const PLACED: Omit<Reason, 'code'> = {
  field: 'plate.thicknessMm',
  place: { xMm: 19, yMm: 41, layer: 'CAVITY 3.5', entity: 'LWPOLYLINE', block: 'LOOP' },
  figures: { lengthMm: 2, toXMm: 21, toYMm: 41, value: 'nan', limit: 200000, line: 12 },
};

describe('what a refusal says', () => {
  it.each(REASON_CODES)('%s has a sentence and a cure, with every fact and with none', (code) => {
    for (const reason of [{ code }, { code, ...PLACED }]) {
      const { message, fix } = wordReason(reason);
      for (const text of [message, fix]) {
        expect(text).toMatch(/^[A-Z].*\.$/);
        expect(text).not.toMatch(/undefined|NaN|null| {2}| \.|\(\)/);
      }
    }
  });

  it.each(REASON_CODES)('%s answers with a status that has a title', (code) => {
    expect(titleOfStatus(statusOfReason(code))).toMatch(/^[A-Z]/);
  });

  it.each(Object.keys(PASSWORD_FAULTS))(
    'tells of a password that %s why and, apart from it, what would do',
    (fault) => {
      const { message, fix } = wordReason({ code: 'password-weak', figures: { fault } });
      expect(message).toMatch(/^The new password (is|repeats|runs) .*\.$/);
      expect(message).not.toContain('Use ');
      expect(fix).toMatch(/^(Use|Choose) /);
    },
  );

  it('names layer, both ends and the size of a gap', () => {
    const { message } = wordReason({ code: 'drawing-contour-open', ...PLACED });
    expect(message).toContain('CAVITY 3.5');
    expect(message).toContain('2.00 mm');
    expect(message).toContain('x 19.0, y 41.0');
    expect(message).toContain('x 21.0, y 41.0');
  });

  it('names entity, layer and place of a drawing that cannot be read', () => {
    const { message } = wordReason({ code: 'drawing-entity-unsupported', ...PLACED });
    expect(message).toContain('LWPOLYLINE on layer CAVITY 3.5 in block LOOP at x 19.0, y 41.0 mm');
  });
});
