import { expect, it } from 'vitest';
import type { CheckName } from '../../server/engineering/finding.js';
import { notJudgedBy } from '../../server/words/en/not-judged.js';

it('names a subject until a check looks at it', () => {
  const withVents = ['vents' as CheckName];
  expect(notJudgedBy([])).toContain('venting');
  expect(notJudgedBy(withVents)).not.toContain('venting');
  expect(notJudgedBy(withVents)).toEqual(notJudgedBy([]).filter((subject) => subject !== 'venting'));
});
