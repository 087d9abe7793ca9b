import { describe, expect, it } from 'vitest';
import { PASSWORD_LENGTH_MIN, passwordFault } from '../../server/members/password-rules.js';

const CONTEXT = ['wren.gray@gullwing.example', 'Wren Gray', 'Gullwing Yard'];

describe('a new password', () => {
  it.each([
    ['heron under a wet slate roof'],
    ['tidal copper lantern nine'],
    ['Wren keeps bees on Thursdays'],
    ['zq7vkxm2wjphr4t'],
    ['пять ежей идут домой'],
    ['correct horse seven otters'],
  ])('may be %j', (password) => {
    expect(passwordFault(password, CONTEXT)).toBeUndefined();
  });

  it.each([
    ['fourteen chars', 'too-short'],
    ['', 'too-short'],
    ['🦆🦆🦆🦆🦆🦆🦆🦆', 'too-short'],
    ['aaaaaaaaaaaaaaaaaaaa', 'repeats'],
    ['abcdabcdabcdabcd', 'repeats'],
    ['duck1duck1duck1duck1', 'repeats'],
    ['abcdefghijklmnopqrst', 'runs'],
    ['123456789012345', 'runs'],
    ['qwertyuiopasdfghjkl', 'runs'],
    ['passwordpassword1', 'common-words'],
    ['P@ssw0rd-L3tm31n-2026', 'common-words'],
    ['correcthorsebatterystaple', 'common-words'],
    ['platenshare admin 1', 'common-words'],
    ['Wren Gray Wren Gray', 'about-you'],
    ['gullwing-yard-2026', 'about-you'],
    ['GullwingYardAdmin!!', 'about-you'],
  ])('may not be %j: %s', (password, fault) => {
    expect(passwordFault(password, CONTEXT)).toBe(fault);
  });

  it('is counted as people count: at least fifteen characters', () => {
    const of = (length: number) => [...'heron under a wet slate'].slice(0, length).join('');
    expect(passwordFault(of(PASSWORD_LENGTH_MIN - 1), [])).toBe('too-short');
    expect(passwordFault(of(PASSWORD_LENGTH_MIN), [])).toBeUndefined();
  });
});
