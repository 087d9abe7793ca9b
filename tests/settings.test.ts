import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readSettings, SettingsRefused } from '../server/settings.js';

function refusalOf(environment: Record<string, string>): string {
  try {
    readSettings(environment);
  } catch (error) {
    if (error instanceof SettingsRefused) return error.message;
  }
  return 'not refused';
}

describe('settings', () => {
  it('work with nothing set', () => {
    expect(readSettings({})).toMatchObject({
      production: false,
      host: '127.0.0.1',
      port: 3000,
      publicUrl: undefined,
      trustProxy: false,
      databaseUrl: undefined,
      dataDir: resolve('data'),
      rateLimits: true,
      signedOutChecksPerMinute: 60,
      signInFailures: 10,
    });
  });

  it('take an empty value for none', () => {
    expect(readSettings({ PORT: '', DATABASE_URL: '', PUBLIC_URL: '' })).toEqual(readSettings({}));
  });

  it.each([
    ['PORT', ['0', '65535'], ['-1', '65536', '3000x', '1e3', ' 80', '３０００']],
    ['HOST', ['0.0.0.0', '::1', 'press.local'], ['not a host', 'http://x']],
    [
      'PUBLIC_URL',
      ['https://press.example.org', 'http://10.0.0.5:3000/'],
      ['press.example.org', 'ftp://x', 'https://x/app', 'https://u@x'],
    ],
    ['TRUST_PROXY', ['off', '1', '10.0.0.1, 10.0.0.0/8', '::1'], ['yes', '10', 'true', '']],
    ['DATABASE_URL', ['postgresql://u:p@h/d', 'postgres://h/d'], ['mysql://h/d', 'h']],
    ['RATE_LIMITS', ['on', 'off'], ['no', 'ON']],
    ['SIGN_IN_FAILURES', ['1', '1000'], ['0', '1001', '1.5']],
    ['SESSION_IDLE_MINUTES', ['5'], ['4']],
    ['LOG_LEVEL', ['debug'], ['verbose']],
    ['DEMO', ['auto', 'off'], ['on']],
    ['NODE_ENV', ['production', 'test'], ['prod']],
  ])('%s takes what is allowed and refuses the rest by name', (name, allowed, refused) => {
    for (const value of allowed) expect(refusalOf({ [name]: value }), value).toBe('not refused');
    for (const value of refused.filter((text) => text !== '')) {
      expect(refusalOf({ [name]: value }), value).toContain(`${name}: `);
    }
  });

  it('lists every wrong value at once, with what is allowed', () => {
    const refusal = refusalOf({
      PORT: '70000',
      NODE_ENV: 'production',
      RATE_LIMITS: 'off',
      LOG_LEVEL: 'loud',
      CHECK_WORKERS: 'many',
    });
    expect(refusal.split('\n')).toEqual([
      'These settings are wrong:',
      '  PORT: "70000" is not possible here; allowed is a whole number from 0 to 65535.',
      '  CHECK_WORKERS: "many" is not possible here; allowed is a whole number from 1 to 32.',
      '  LOG_LEVEL: "loud" is not possible here; allowed is one of silent, fatal, error, warn, info, debug, trace.',
      '  RATE_LIMITS: "off" is not possible here; allowed is on, because NODE_ENV is production.',
    ]);
  });

  it('never shows a database address, which can hold a password', () => {
    const refusal = refusalOf({ DATABASE_URL: 'mysql://press:secret@db/press' });
    expect(refusal).toContain('DATABASE_URL');
    expect(refusal).not.toContain('secret');
  });

  it('read the proxies in front', () => {
    expect(readSettings({ TRUST_PROXY: '2' }).trustProxy).toBe(2);
    expect(readSettings({ TRUST_PROXY: '10.0.0.1, ::1' }).trustProxy).toEqual(['10.0.0.1', '::1']);
  });
});
